import type { ClassPassing } from '../wheel/efficiency/efficiency-law.ts';

/**
 * Stands for zero in the denominator of a class that nothing leaves and nothing breaks: what arrives there comes out
 * beyond any real flow, yet finite, so that no NaN arises; where nothing arrives it stays zero.
 */
export const STUCK = 1e-140;

/** A product of two denominators below this has one that stands for zero. */
const STUCK_PAIR = STUCK * STUCK;

/**
 * Σh of one component with one separable term, in one sweep that stores nothing: the inner loop of the climb.
 *
 * With u = (q_j + ¼µ)², K = k S q²/u and D at the class's two points, the balance of class j,
 * h_j = ½ Σ_± 1/(D_± + K e_j) · (f_j + Δu_j A), A = Σ_{i>j} w_i K_i h_i, becomes h_j = u r (f_j + Δu_j A) and
 * A ← A + t (f_j + Δu_j A) with r = ½ Σ_± 1/(D_± u + k S q² e_j), t = w_j k S q² r: one division a class, off the chain
 * of products and sums that runs between classes. Same numbers as `solveTriangular` to round-off.
 *
 * @param gain Δu by class
 * @param passing 1 − T at the two points of each class
 * @param leakage ℓ, and `open` = (1 − ℓ)(1 − τ): D = ℓ + open·passing
 * @param hits k
 * @param halfStokes ¼µ
 * @param escaped S q² e by class, and `sourced` S q² w
 * @param inertia q by class: Stokes number times viscosity
 * @param feed f by class
 * @param unbroken number of finest classes that no hit breaks (S = 0): they only pass
 * @returns Σh; beyond any real flow where mass arrives in a class that nothing leaves
 */
export function sumAround(
  gain: Float64Array,
  { finer, coarser }: ClassPassing,
  leakage: number,
  open: number,
  hits: number,
  halfStokes: number,
  escaped: Float64Array,
  sourced: Float64Array,
  inertia: Float64Array,
  feed: Float64Array,
  unbroken: number,
): number {
  let broken = 0;
  let sum = 0;
  for (let j = feed.length - 1; j >= unbroken; j--) {
    const q = inertia[j]! + halfStokes;
    const u = q * q;
    const leave = hits * escaped[j]!;
    const a = (leakage + open * finer[j]!) * u + leave;
    const b = (leakage + open * coarser[j]!) * u + leave;
    const r = halfSumOver(a, b);
    const inflow = feed[j]! + gain[j]! * broken;
    sum += u * r * inflow;
    broken += hits * sourced[j]! * r * inflow;
  }
  for (let j = 0; j < unbroken; j++) {
    const r = halfSumOver(leakage + open * finer[j]!, leakage + open * coarser[j]!);
    sum += (feed[j]! + gain[j]! * broken) * r;
  }
  return sum;
}

/** ½ (1/a + 1/b) by one division. */
function halfSumOver(a: number, b: number): number {
  const product = a * b;
  return product > STUCK_PAIR ? (a + b) / (product + product) : 1 / STUCK;
}
