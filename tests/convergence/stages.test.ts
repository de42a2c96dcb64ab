import { describe, test } from 'vitest';
import { tabulateFragments } from '../../src/model/loop/prepared-materials.ts';
import { solveStages } from '../../src/model/loop/stages.ts';
import { close } from '../close.ts';
import { gridOf } from '../grid.ts';

/** Form 26a, feed at the rotor, sharp wheel with K(x_c)τ = 0.5 (eq. V3, derived). */
function returnsPerFeed(stages: number): number {
  const edges = [0.01, 0.03, 0.1, 0.3, 0.5, 0.8, 1.2, 2];
  const grid = gridOf(edges);
  const { sizes, classes: n } = grid;
  const feed = new Float64Array(n);
  feed[n - 1] = 1;
  const arriving = new Float64Array(n);
  solveStages(stages, {
    fragments: tabulateFragments(grid, { law: 'power', exponent: 1 }),
    feed,
    breakage: Float64Array.from(sizes),
    leaving: sizes.map((x) => (x < 0.5 ? 1 : 0)),
    arriving,
  });
  return arriving.reduce((sum, h, i) => sum + (sizes[i]! >= 0.5 ? h : 0), 0);
}

describe('stages per pass', () => {
  test('returns per feed 2.0, 1.7778, 1.6617, 1.5720 for 1, 2, 4, 16 stages, and 1/(e^0.5 − 1) for plug flow', () => {
    const wanted = [
      [1, 2],
      [2, 1.7777777778],
      [4, 1 / ((1 + 0.125) ** 4 - 1)],
      [16, 1 / ((1 + 0.5 / 16) ** 16 - 1)],
      [Number.POSITIVE_INFINITY, 1 / (Math.exp(0.5) - 1)],
    ] as const;
    for (const [stages, returns] of wanted) close(returnsPerFeed(stages), returns, 1e-10);
    close(1 / ((1 + 0.125) ** 4 - 1), 1.6617, 1e-4);
    close(1 / ((1 + 0.5 / 16) ** 16 - 1), 1.572, 1e-4);
  });
});
