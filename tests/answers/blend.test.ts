import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { blendAnswer, ratioEffects } from '../../src/answers/blend/blend-answer.ts';
import { blendKeys, blendSection } from '../../src/answers/blend/blend-section.ts';
import { buildCurve, sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { demo } from './cases.ts';

const FILE = resolve(import.meta.dirname, '../../scenarios/erythritol-flow-agent.yaml');
const scenario = await loadScenario(FILE);
const answer = blendAnswer(scenario)!;

describe('a product with its flow agent', () => {
  test('what is fed comes out: shares of the product are those of the feed', () => {
    for (const { fed, product } of answer.parts) expect(product).toBeCloseTo(fed, 9);
    expect(answer.parts.reduce((sum, { circulating }) => sum + circulating, 0)).toBeCloseTo(1, 12);
  });

  test('the curve of the blend is that of its parts by their shares, at every edge', () => {
    const { blend, parts } = answer;
    blend.curve.edges.forEach((edge, i) => {
      const sum = parts.reduce((all, { product, curve }) => all + product * curve.undersize[i]!, 0);
      expect(Math.abs(blend.curve.undersize[i]! - sum), `${edge}`).toBeLessThan(1e-12);
    });
  });

  test('the fine agent goes through: it is a smaller share of what circulates than of the product', () => {
    const [, agent] = answer.parts;
    expect(agent!.circulating).toBeLessThan(0.5 * agent!.product);
  });

  test('what it does to size and energy is said in the direction of the numbers', () => {
    const [first] = blendSection(answer).sentences!;
    const { blend, mainAlone } = blendKeys(answer);
    expect(blend.x50_um).toBeLessThan(mainAlone!.x50_um);
    expect(blend.specific_kWh_per_t).toBeLessThan(mainAlone!.specific_kWh_per_t);
    const percent = (100 * (mainAlone!.x50_um - blend.x50_um)) / mainAlone!.x50_um;
    expect(first).toMatch(
      /^Against erythritol alone .*: x50 [\d.]+ % finer, x95 [\d.]+ % finer, energy per tonne [\d.]+ % less\./,
    );
    const outlet = blendSection(answer).tables![1]!.rows.find(([name]) => name === 'outlet temperature')!;
    expect(outlet[3]).toMatch(/ K$/);
    expect(Number(/x50 ([\d.]+) %/.exec(first!)![1])).toBeCloseTo(percent, 1);
  });

  test('no effect on breakage or caking is claimed', () => {
    expect(blendSection(answer).sentences!.join(' ')).toContain('is not predicted: run with and without it');
  });

  test('one component is no blend, and nor is a mill that chokes', async () => {
    expect(blendAnswer(await demo())).toBeUndefined();
    expect(blendAnswer(await loadScenario(FILE, { set: ['feedRate=3000 kg/h'] }))).toBeUndefined();
  });
});

describe('the error of two feeders', () => {
  test('in the share, by hand: 0.975 · 0.025 · √(σ₁² + σ₂²)', () => {
    const { feeders, deviation, stated } = answer.ratio;
    expect(stated).toBe(true);
    expect(deviation / (0.975 * 0.025 * Math.sqrt(feeders[0] ** 2 + feeders[1] ** 2))).toBeCloseTo(1, 6);
  });

  test('without two feeders it is assumed, and said so', async () => {
    const { plant: _, ...blocks } = scenario.blocks;
    const without = blendAnswer({ ...scenario, blocks })!;
    expect(without.ratio.feeders).toEqual([0.01, 0.01]);
    expect(without.ratio.deviation).toBeCloseTo(0.975 * 0.025 * Math.SQRT2 * 0.01, 9);
    expect(blendSection(without).sentences!.join(' ')).toContain('assumed; give plant.feeder');
    expect(blendSection(answer).sentences!.join(' ')).not.toContain('assumed; give');
  });

  test('in passing and sizes, by hand on two straight curves', () => {
    // Q₁ = ln(x/1)/ln 16 and Q₂ = ln(x/1)/ln 4 up to 4, half and half: at 2 µm 0.25 and 0.5, so 0.375
    const edges = Float64Array.from({ length: 41 }, (_, i) => 1e-6 * 16 ** (i / 40));
    const straight = (end: number) => edges.map((edge) => Math.min(1, Math.log(edge / 1e-6) / Math.log(end)));
    const [first, second] = [straight(16), straight(4)];
    const blend = first.map((share, i) => 0.5 * share + 0.5 * second[i]!);
    const curve = (undersize: Float64Array) => buildCurve(edges, undersize);
    const parts = [
      { curve: curve(first), product: 0.5 },
      { curve: curve(second), product: 0.5 },
    ];
    const [at2, , x50] = ratioEffects(curve(blend), parts, 0.04, [2e-6]);
    expect(at2!.value).toBeCloseTo(0.375, 9);
    // |0.25 − 0.5| · 0.04
    expect(at2!.deviation).toBeCloseTo(0.01, 9);
    // Q = 0.5 (1/ln 16 + 1/ln 4) ln x = 0.5 at x = e^(0.5/0.54101) = 2.5198 µm, where Q₁ − Q₂ = 1/3 − 2/3
    expect(x50!.value * 1e6).toBeCloseTo(2.5198, 3);
    // σ = (1/3) · 0.04 · x/0.54101
    expect(x50!.deviation * 1e6).toBeCloseTo((0.04 / 3) * (2.5198 / 0.54101), 3);
  });

  test('is what a blend mixed one deviation off would measure', () => {
    const { parts, blend, ratio } = answer;
    const shifted = blend.curve.edges.map((_, i) => {
      const share = ratio.share + ratio.deviation;
      return share * parts[0]!.curve.undersize[i]! + (1 - share) * parts[1]!.curve.undersize[i]!;
    });
    const off = buildCurve(blend.curve.edges, shifted);
    for (const { about, at, value, deviation } of ratio.effects) {
      const moved = about === 'passing' ? undersizeAt(off, at) - value : sizeAt(off, at) - value;
      if (deviation > 1e-4 * value) expect(Math.abs(moved) / deviation).toBeCloseTo(1, 1);
    }
    expect(ratio.effects.some(({ value, deviation }) => deviation > 1e-4 * value)).toBe(true);
  });
});
