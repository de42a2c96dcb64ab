import type { LawChoice } from '../parameters.ts';
import type { Grid } from '../psd/grid.ts';
import type { FragmentLaw } from './fragments/fragment-law.ts';
import { FRAGMENT_LAWS } from './fragments/index.ts';

/**
 * Class-to-class fragments b_ij of any law: mass fraction of a broken particle of class j that lands in class i.
 *
 * b_ij = B(e_{i+1}, x_j) − B(e_i, x_j), class 0 with all finer, b_jj = 1 − B(e_j, x_j); every parent's column sums to 1.
 *
 * @param grid size classes
 * @param choice fragment law and its parameters
 * @param law the law of that name unless given
 * @returns packed lower triangle, b_ij at [j(j+1)/2 + i], i ≤ j: the fragments of one parent side by side
 */
export function fragmentMatrix(
  grid: Grid,
  choice: LawChoice,
  law: FragmentLaw = FRAGMENT_LAWS[choice.law]!,
): Float64Array {
  const n = grid.classes;
  const packed = new Float64Array((n * (n + 1)) / 2);
  for (let j = 0; j < n; j++) {
    const parent = grid.sizes[j]!;
    const row = (j * (j + 1)) / 2;
    let below = 0;
    for (let i = 0; i < j; i++) {
      const upTo = law.undersize(choice, grid.edges[i + 1]!, parent);
      packed[row + i] = upTo - below;
      below = upTo;
    }
    packed[row + j] = 1 - below;
  }
  return packed;
}
