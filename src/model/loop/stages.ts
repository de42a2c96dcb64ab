import type { Fragments } from './prepared-materials.ts';
import { solveTriangular } from './triangular.ts';
import type { ComponentWork } from './workspace.ts';

/** The arrays a staged pass needs. */
type Passing = Pick<ComponentWork, 'fragments' | 'feed' | 'breakage' | 'leaving' | 'arriving'>;

/** Largest rate of one uniformised step; keeps e^−q and the number of terms small. */
const LARGEST_RATE = 32;
/** Terms of the Poisson sum below this share of the whole are left out. */
const NEGLIGIBLE = 1e-18;

/**
 * Steady state with N mixed stages per pass, or plug flow (eq. 26a): h = P(F f + C h) with
 * P = [I + (I − b) K/N]^(−N), or exp(−(I − b) K) for N = ∞, C = 1 − D.
 *
 * P is built column by column with positive arithmetic only; the loop around it is lower triangular again.
 *
 * @param stages N ≥ 1, or Infinity for plug flow
 * @param work component arrays; `arriving` is written
 * @returns Σ h
 */
export function solveStages(stages: number, work: Passing): number {
  const { feed, leaving, arriving } = work;
  const n = feed.length;
  const passage = passageMatrix(stages, work.fragments, work.breakage);
  const entering = new Float64Array(n);
  const reached = new Float64Array(n);
  let sum = 0;
  for (let j = n - 1; j >= 0; j--) {
    const stay = passage[j * n + j]!;
    const h = (reached[j]! + stay * feed[j]!) / (1 - stay * (1 - leaving[j]!));
    arriving[j] = h;
    sum += h;
    entering[j] = feed[j]! + (1 - leaving[j]!) * h;
    for (let i = 0; i < j; i++) reached[i]! += passage[j * n + i]! * entering[j]!;
  }
  return sum;
}

/**
 * P: what one pass makes of a unit fed in class j, at [j·n + i]; every row of fixed j sums to 1.
 *
 * @param stages N ≥ 1 whole, or Infinity
 * @param fragments b on the grid
 * @param breakage K by class
 */
export function passageMatrix(stages: number, fragments: Fragments, breakage: Float64Array): Float64Array {
  const n = breakage.length;
  const passage = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    if (stages === Number.POSITIVE_INFINITY) plugFlow(fragments, breakage, column);
    else mixedStages(stages, fragments, breakage, column);
    passage.set(column, j * n);
  }
  return passage;
}

function mixedStages(
  stages: number,
  fragments: Fragments,
  breakage: Float64Array,
  column: Float64Array,
): void {
  const perStage = breakage.map((k) => k / stages);
  const all = new Float64Array(column.length).fill(1);
  const next = new Float64Array(column.length);
  for (let stage = 0; stage < stages; stage++) {
    solveTriangular(fragments, all, perStage, column, next);
    column.set(next);
  }
}

/** exp(−A) v as Σ Poisson(q; m) (I − A/q)^m v: all terms positive (uniformisation). */
function plugFlow(fragments: Fragments, breakage: Float64Array, column: Float64Array<ArrayBuffer>): void {
  let fastest = 0;
  for (const k of breakage) fastest = Math.max(fastest, k);
  if (fastest === 0) return;
  const parts = Math.ceil(fastest / LARGEST_RATE);
  const rate = fastest / parts;
  const share = breakage.map((k) => k / fastest);
  for (let part = 0; part < parts; part++) {
    let weight = Math.exp(-rate);
    let total = weight;
    let term = Float64Array.from(column);
    for (let i = 0; i < column.length; i++) column[i] = weight * term[i]!;
    for (let m = 1; 1 - total > NEGLIGIBLE && m < 4 * LARGEST_RATE + 60; m++) {
      term = breakOnce(fragments, share, term);
      weight *= rate / m;
      total += weight;
      for (let i = 0; i < column.length; i++) column[i]! += weight * term[i]!;
    }
  }
}

/** (I − (I − b) K) v for K ≤ 1: one round of breakage, mass conserved. */
function breakOnce(
  fragments: Fragments,
  breakage: Float64Array,
  from: Float64Array,
): Float64Array<ArrayBuffer> {
  const n = from.length;
  const to = new Float64Array(n);
  for (let j = 0; j < n; j++) to[j] = from[j]! - breakage[j]! * from[j]! * fragments.escaping[j]!;
  if (fragments.kind === 'matrix') {
    for (let j = 0; j < n; j++) {
      const broken = breakage[j]! * from[j]!;
      if (broken === 0) continue;
      const row = (j * (j + 1)) / 2;
      for (let i = 0; i < j; i++) to[i]! += fragments.packed[row + i]! * broken;
    }
    return to;
  }
  for (let term = 0; term < fragments.terms; term++) {
    let broken = 0;
    for (let j = n - 1; j >= 0; j--) {
      to[j]! += fragments.gain[term * n + j]! * broken;
      broken += fragments.source[term * n + j]! * breakage[j]! * from[j]!;
    }
  }
  return to;
}
