import { SELECTION_LAWS } from '../breakage/selection/index.ts';
import type { Case, Component } from '../case.ts';
import { GAUSS, type Grid } from '../psd/grid.ts';
import type { Fixed } from './fixed.ts';
import { piledUpSize } from './grid-needed.ts';

/**
 * S by class (eq. 7 to 10), taken at the class's middle. S has a kink at the grind limit; where particles too small to be
 * broken are held back, the class that holds it gets its mean over ln x, by Gauss's two points of the part above.
 *
 * @param selection length grid.classes, written in place
 */
export function fillSelection(
  c: Case,
  grid: Grid,
  fixed: Fixed,
  component: Component,
  selection: Float64Array,
): void {
  const choice = component.material.selection;
  const law = SELECTION_LAWS[choice.law]!;
  for (let i = 0; i < selection.length; i++) {
    selection[i] = law.probability(choice, grid.sizes[i]!, fixed.hit);
  }
  const limit = piledUpSize(c, fixed, component);
  if (limit === 0) return;
  const at = Math.floor(Math.log(limit / grid.edges[0]!) / grid.logRatio);
  if (at >= grid.classes) return;
  const above = Math.log(grid.edges[at + 1]! / limit);
  const finer = law.probability(choice, limit * Math.exp((0.5 - GAUSS) * above), fixed.hit);
  const coarser = law.probability(choice, limit * Math.exp((0.5 + GAUSS) * above), fixed.hit);
  selection[at] = ((finer + coarser) / 2) * (above / grid.logRatio);
}
