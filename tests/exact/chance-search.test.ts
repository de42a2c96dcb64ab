import { describe, expect, test } from 'vitest';
import { type ChanceProblem, climbChance } from '../../src/search/find/chance-search.ts';
import { close } from '../close.ts';

/** Sample k holds up to a limit of its own on x, known in closed form; the second line always holds. */
const LIMITS = Array.from({ length: 200 }, (_, k) => 0.4 + (0.4 * ((k * 77) % 200)) / 200);

function problemAt(wanted: number): ChanceProblem {
  return {
    dimensions: 2,
    coordinates: (at) => Float64Array.from(at),
    judge: ([x, y]) => ({ goal: x! - (y! - 0.5) ** 2, violation: 0 }),
    bench: {
      samples: LIMITS.length,
      lines: 2,
      marginsAt: ([x], samples) =>
        Float64Array.from({ length: 2 * samples }, (_, i) =>
          i % 2 ? 1 : (LIMITS[i >> 1]! ** 2 - x! ** 2) * 2,
        ),
    },
    wanted,
  };
}

describe('settings at a chance', () => {
  test.each([0.5, 0.8, 0.9, 0.95])('at %d the goal stands at the quantile of the limits', (wanted) => {
    const place = climbChance(problemAt(wanted), [0.3, 0.2], { samples: 200, steps: 20, radius: 0.3 }, 1);
    // derived: the largest x that wanted·200 of 200 limits allow
    const quantile = [...LIMITS].sort((a, b) => b - a)[wanted * LIMITS.length - 1]!;
    expect(place.chance).toBeGreaterThanOrEqual(wanted);
    expect(place.chance).toBeLessThan(wanted + 0.02);
    close(place.at[0]!, quantile, 8e-3);
  });

  test('a chance out of reach leads to the largest there is', () => {
    const { bench, ...rest } = problemAt(1);
    const never = (margins: Float64Array): Float64Array =>
      margins.map((value, i) => (i < 20 && i % 2 ? -1 : value));
    const problem = {
      ...rest,
      bench: { ...bench, marginsAt: (at: Float64Array, n: number) => never(bench.marginsAt(at, n)) },
    };
    const place = climbChance(problem, [0.7, 0.2], { samples: 200, steps: 20, radius: 0.3 }, 1);
    close(place.chance, 0.95, 1e-9);
    expect(place.merit.violation).toBeGreaterThan(0);
  });
});
