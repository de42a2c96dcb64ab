import type { Case } from '../../model/case.ts';
import { fillUndersize, wholeProduct } from '../../model/loop/balance.ts';
import { type SolveOptions, solve } from '../../model/loop/solve.ts';
import type { ChokedState, SteadyState } from '../../model/loop/state.ts';
import { fillSlopes, type SizeCurve } from '../../model/psd/curve.ts';
import type { Grid } from '../../model/psd/grid.ts';
import type { Solved } from './quantity.ts';

export type Point =
  | ({ readonly status: 'steady' } & Solved)
  | { readonly status: 'choked'; readonly state: ChokedState };

/** Solves a case and reads the product's size curve off it. */
export function solvePoint(c: Case, options?: SolveOptions): Point {
  const state = solve(c, options);
  if (state.status === 'choked') return { status: 'choked', state };
  return { status: 'steady', case: c, state, curve: productCurve(state) };
}

/** Size curve of the whole product. */
export function productCurve(state: SteadyState): SizeCurve {
  return curveOf(state.grid, wholeProduct(state));
}

/** Size curve of masses by class on a grid. */
export function curveOf(grid: Grid, masses: Float64Array): SizeCurve {
  const undersize = new Float64Array(grid.edges.length);
  const slopes = new Float64Array(grid.edges.length);
  fillUndersize(masses, undersize);
  fillSlopes(undersize, grid.logRatio, slopes);
  return { edges: grid.edges, undersize, slopes };
}
