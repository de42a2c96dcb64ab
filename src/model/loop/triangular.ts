import type { Fragments, Separable, Triangle } from './chamber.ts';
import { STUCK } from './kernel.ts';

/**
 * One sweep from coarse to fine through [D + (I − b) K] h = F f (eq. 26): exact, no iteration.
 *
 * For B = Σ u_k(x) w_k(y) the fragments that reach class i from all coarser classes are Σ_k Δu_k,i · Σ_{j>i} w_k,j K_j h_j,
 * a running sum per term: O(n). Any other B uses the packed triangle: O(n²).
 *
 * @param fragments b of the material on the grid
 * @param leaving D by class
 * @param breakage K by class
 * @param feed feed by class (any unit; h comes in the same)
 * @param arriving h by class, written in place
 * @returns Σ h; beyond any real flow where mass arrives in a class that nothing leaves
 */
export function solveTriangular(
  fragments: Fragments,
  leaving: Float64Array,
  breakage: Float64Array,
  feed: Float64Array,
  arriving: Float64Array,
): number {
  if (fragments.kind === 'matrix') return solvePacked(fragments, leaving, breakage, feed, arriving);
  return solveTerms(fragments, leaving, breakage, feed, arriving);
}

function solveTerms(
  { terms, gain, source, escaping, running }: Separable,
  leaving: Float64Array,
  breakage: Float64Array,
  feed: Float64Array,
  arriving: Float64Array,
): number {
  const n = feed.length;
  running.fill(0);
  let sum = 0;
  for (let j = n - 1; j >= 0; j--) {
    const k = breakage[j]!;
    let inflow = feed[j]!;
    for (let term = 0; term < terms; term++) inflow += gain[term * n + j]! * running[term]!;
    const h = inflow / Math.max(STUCK, leaving[j]! + k * escaping[j]!);
    arriving[j] = h;
    for (let term = 0; term < terms; term++) running[term]! += source[term * n + j]! * k * h;
    sum += h;
  }
  return sum;
}

function solvePacked(
  { packed, escaping }: Triangle,
  leaving: Float64Array,
  breakage: Float64Array,
  feed: Float64Array,
  arriving: Float64Array,
): number {
  arriving.set(feed);
  let sum = 0;
  for (let j = feed.length - 1; j >= 0; j--) {
    const inflow = arriving[j]!;
    const h = inflow / Math.max(STUCK, leaving[j]! + breakage[j]! * escaping[j]!);
    arriving[j] = h;
    sum += h;
    const hit = breakage[j]! * h;
    if (hit > 0) {
      const row = (j * (j + 1)) / 2;
      for (let i = 0; i < j; i++) arriving[i]! += packed[row + i]! * hit;
    }
  }
  return sum;
}
