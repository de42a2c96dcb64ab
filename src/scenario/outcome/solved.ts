import { fillUndersize, wholeProduct } from '../../model/loop/mass-balance.ts';
import { type SolveOptions, solve } from '../../model/loop/solve.ts';
import type { ChokedState, SteadyState } from '../../model/loop/state.ts';
import { fillSlopes, type SizeCurve } from '../../model/psd/curve.ts';
import type { Grid } from '../../model/psd/grid.ts';
import { fanDecides, inletFlow, solveWithFan } from '../../plant/fan-operating-point.ts';
import { plantAt } from '../../plant/plant-state.ts';
import type { SitedCase } from '../operating-point.ts';
import type { Solved } from './quantity.ts';

/** A case solved: what quantities are read from, or why it chokes. */
export type Point =
  | ({ readonly status: 'steady' } & Solved)
  | { readonly status: 'choked'; readonly state: ChokedState };

/**
 * Solves a case and reads the product's size curve off it. Where a fan of the plant runs at a speed of its own, its air is
 * solved for as well, and the case that comes back has the air flow found.
 */
export function solvePoint(c: SitedCase, options?: SolveOptions): Point {
  const { plant } = c;
  const { case: there, state } =
    plant && fanDecides(plant) ? solveWithFan(c, plant, options) : { case: c, state: solve(c, options) };
  if (state.status === 'choked') return { status: 'choked', state };
  const around = plant ? { plant: plantAt(there, state, plant, inletFlow(c)) } : {};
  return { status: 'steady', case: there, state, curve: productCurve(state), ...around };
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
