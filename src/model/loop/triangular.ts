import { STUCK } from './fast-flow-sum.ts';
import type { Fragments, Separable, Triangle } from './prepared-materials.ts';

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

/** How often what enters a class reaches the wheel in it, 1/(D + K e); it depends on no other class, so no division waits. */
function visits(out: number): number {
  return 1 / Math.max(out, STUCK);
}

function solveTerms(
  { terms, gain, source, escaping, running }: Separable,
  leaving: Float64Array,
  breakage: Float64Array,
  feed: Float64Array,
  arriving: Float64Array,
): number {
  const n = feed.length;
  let sum = 0;
  if (terms === 1) {
    let broken = 0;
    for (let j = n - 1; j >= 0; j--) {
      const k = breakage[j]!;
      const once = visits(leaving[j]! + k * escaping[j]!);
      const inflow = feed[j]! + gain[j]! * broken;
      broken += source[j]! * k * once * inflow;
      const h = once * inflow;
      arriving[j] = h;
      sum += h;
    }
    return sum;
  }
  running.fill(0);
  for (let j = n - 1; j >= 0; j--) {
    const k = breakage[j]!;
    let inflow = feed[j]!;
    for (let term = 0; term < terms; term++) inflow += gain[term * n + j]! * running[term]!;
    const h = visits(leaving[j]! + k * escaping[j]!) * inflow;
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
    const h = visits(leaving[j]! + breakage[j]! * escaping[j]!) * arriving[j]!;
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

/**
 * A h with A = D + (I − b) K: what leaves each class, by the wheel and by breakage, less the fragments that reach it.
 *
 * @param arriving h by class
 * @param out written in place; not the same array as h
 */
export function applyBalance(
  fragments: Fragments,
  leaving: Float64Array,
  breakage: Float64Array,
  arriving: Float64Array,
  out: Float64Array,
): void {
  const { escaping } = fragments;
  const n = arriving.length;
  for (let j = 0; j < n; j++) out[j] = (leaving[j]! + breakage[j]! * escaping[j]!) * arriving[j]!;
  if (fragments.kind === 'matrix') {
    for (let j = 0; j < n; j++) {
      const hit = breakage[j]! * arriving[j]!;
      const row = (j * (j + 1)) / 2;
      for (let i = 0; i < j; i++) out[i]! -= fragments.packed[row + i]! * hit;
    }
    return;
  }
  for (let term = 0; term < fragments.terms; term++) {
    let broken = 0;
    for (let j = n - 1; j >= 0; j--) {
      out[j]! -= fragments.gain[term * n + j]! * broken;
      broken += fragments.source[term * n + j]! * breakage[j]! * arriving[j]!;
    }
  }
}
