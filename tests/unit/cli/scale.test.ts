import { describe, expect, test } from 'vitest';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';

describe('scale', () => {
  test('leads with rate, limit, settings and their bands; says what does not scale', async () => {
    const { code, out } = await grindloop('scale', DEMO, '--to', 'production-600');
    expect(code).toBe(0);
    expect(out.split('\n')[2]).toMatch(
      /makes the same product at up to \d+ kg\/h, limited by [^:]+: rotor \d+ rpm ± \d+ %, wheel medium leaning \d+ rpm ± \d+ %, air 6000 m³\/h/,
    );
    expect(out).toMatch(/Not the same although the product is:/);
    expect(out).toMatch(/capture of 5 µm particles/);
    expect(out).toMatch(/licensed practice decide/);
  });
  test('--json: both points solve to what they say, run on the file confirms the start', async () => {
    const { out } = await grindloop('scale', DEMO, '--to', 'production-1000', '--json');
    const scaled = JSON.parse(out);
    const run = JSON.parse((await grindloop('run', DEMO, '--json')).out);
    expect(scaled.from.x95_um).toBeCloseTo(run.product.x95_um, 10);
    for (const point of [scaled.sameLoading, scaled.highestRate]) {
      expect(Math.abs(point.x95_um / run.product.x95_um - 1)).toBeLessThan(0.01);
      expect(point.bands.wheelSpeed).toBeGreaterThan(0.05);
      expect(point.limits.every(({ use }: { use: number }) => use <= 1)).toBe(true);
    }
    expect(scaled.stoppedBy.name.length).toBeGreaterThan(3);
  });
  test('bad input is 1 with the nearest machine; a start that chokes is no answer', async () => {
    const unknown = await grindloop('scale', DEMO, '--to', 'production-601');
    expect(unknown.code).toBe(1);
    expect(unknown.err).toMatch(/did you mean production-600/);
    const wheel = await grindloop(
      'scale',
      DEMO,
      '--to',
      'production-600',
      '--wheel',
      'short',
      '--air',
      '3 kg',
    );
    expect(wheel.code).toBe(1);
    const choked = await grindloop(
      'scale',
      DEMO,
      '--to',
      'production-600',
      '--set',
      'settings.feedRate=3000 kg/h',
    );
    expect(choked.code).toBe(2);
  });
});
