import type { Case } from '../../model/case.ts';
import { fillUndersize, wholeProduct } from '../../model/loop/balance.ts';
import { type SolveOptions, solve } from '../../model/loop/solve.ts';
import type { ChokedState, SteadyState } from '../../model/loop/state.ts';
import { buildCurve, type SizeCurve } from '../../model/psd/curve.ts';
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
  return curveOf(state.grid.edges, wholeProduct(state));
}

/** Size curve of masses by class on a grid. */
export function curveOf(edges: Float64Array, masses: Float64Array): SizeCurve {
  const undersize = new Float64Array(edges.length);
  fillUndersize(masses, undersize);
  return buildCurve(edges, undersize);
}
