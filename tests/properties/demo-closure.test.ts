import { describe, expect, test } from 'vitest';
import { massClosure } from '../../src/model/loop/mass-balance.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { toCase, withValues } from '../../src/scenario/operating-point.ts';
import type { Factor } from '../../src/scenario/scenario.ts';

function valuesOf(factor: Factor): readonly (number | string)[] {
  if (factor.kind === 'levels') return factor.levels;
  const { from, to, steps } = factor;
  return Array.from({ length: steps! }, (_, i) => from + ((to - from) * i) / (steps! - 1));
}

describe('the demo sweep', () => {
  test('conserves mass to 1e-12 on every one of its points', async () => {
    const scenario = await loadScenario('scenarios/erythritol.yaml');
    const { factors } = scenario.sweep!;
    const all = factors.map(valuesOf);
    const points = all.reduce<(number | string)[][]>(
      (rows, values) => rows.flatMap((row) => values.map((value) => [...row, value])),
      [[]],
    );
    expect(points.length).toBeGreaterThanOrEqual(3000);
    const kept = {};
    let steady = 0;
    let worst = 0;
    for (const point of points) {
      const state = solve(toCase(withValues(scenario, factors, point)), { kept, choke: false });
      if (state.status === 'choked') continue;
      steady++;
      worst = Math.max(worst, massClosure(state));
    }
    console.info(`demo: ${points.length} points, ${steady} steady, worst closure ${worst.toExponential(1)}`);
    expect(steady).toBeGreaterThan(2000);
    expect(worst).toBeLessThan(1e-12);
  });
});
