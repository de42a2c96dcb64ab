import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { quantityNamed } from '../../../src/scenario/outcome/quantities.ts';
import { asksFeedAtChoke } from '../../../src/scenario/outcome/spec.ts';
import { matchWheel } from '../../../src/search/compare/match.ts';
import { benchOfSamples } from '../../../src/search/find/posterior-margins.ts';
import { answerAt } from '../../../src/search/next/decision.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { chanceOf, samplesOf } from '../../../src/trials/posterior-samples.ts';
import { close } from '../../close.ts';

const file = resolve('scenarios/erythritol.yaml');
const scenario = await loadScenario(file, {
  set: ['spec=["feedMargin >= 10 %"]', 'goal=maximise feedMargin'],
});
const plain = await loadScenario(file);
const posterior = posteriorOf(scenario);
const samples = samplesOf(posterior, 20);

describe('the feed at choke is looked for where something asks for it', () => {
  test('in a line of the spec, a goal or by name, and not otherwise', () => {
    expect(asksFeedAtChoke(plain)).toBe(false);
    expect(asksFeedAtChoke({ spec: scenario.spec })).toBe(true);
    const { goal } = scenario;
    expect(asksFeedAtChoke(goal ? { goal } : {})).toBe(true);
    expect(asksFeedAtChoke({ quantities: ['x95', 'feedAtChoke'] })).toBe(true);
  });

  test('a spec on the feed margin is met in samples that run, with as much to spare as on the feed rate', () => {
    const { lines, margins, chokes } = chanceOf(scenario, posterior, samples);
    // F_c/F − 1 >= 10 % and F <= F_c/1.1 say the same
    const byRate = { ...scenario, spec: [{ ...scenario.spec[0]!, ...ratio }] };
    expect(lines[0]).toBeGreaterThan(0.5);
    expect(lines).toEqual(chanceOf(byRate, posterior, samples).lines);
    expect(margins[0]!.filter(Number.isFinite)).toHaveLength(Math.round(20 * (1 - chokes)));
  });

  test('samples prepared for a search have the same margins', () => {
    const bench = benchOfSamples(scenario, [], posterior, samples).marginsAt(new Float64Array(0), 20);
    const line = bench.filter((_, i) => i % 2 === 0).sort();
    const { margins } = chanceOf(scenario, posterior, samples);
    margins[0]!.forEach((margin, k) => {
      if (Number.isFinite(margin)) close(line[k]!, margin / 0.1, 1e-9);
    });
  });

  test('the next trials are chosen for a goal in it', () => {
    const { lines } = answerAt(scenario, posterior);
    const goal = lines.find(({ text }) => text === 'maximise feedMargin')!;
    expect(Math.max(...goal.gradient.map(Math.abs))).toBeGreaterThan(0.1);
  });

  test('wheels are matched in it', () => {
    const matched = matchWheel(scenario, 'long-leaning', { quantity: 'feedMargin', value: 0.4 });
    if (!matched.reached) throw new Error('was to reach 40 %');
    close(quantityNamed('feedMargin')!.of(matched.solved), 0.4, 1e-3);
  });
});

const ratio = {
  left: {
    kind: 'binary',
    operator: '/',
    left: { kind: 'quantity', name: 'feedAtChoke' },
    right: { kind: 'quantity', name: 'feedRate' },
  },
  right: { kind: 'number', value: 1.1 },
} as const;
