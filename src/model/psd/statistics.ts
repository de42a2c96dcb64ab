import { type SizeCurve, sizeAt } from './curve.ts';

/** A moment that draws more than this share from the two finest octaves of the curve depends on what is not resolved. */
const UNRESOLVED = 0.2;
/** Two octaves, as a ratio of sizes; its upper end is an edge of a grid of whole classes per octave, met to round-off. */
const FINEST = 4 * (1 + 1e-9);
/** Ratios of neighbouring edges this close are one. */
const SAME_RATIO = 1e-13;

/** x^k, without a power where k is ±1. */
function raised(size: number, order: number): number {
  if (order === 1) return size;
  return order === -1 ? 1 / size : size ** order;
}

/**
 * Moment of the mass distribution, M_{k,3} = ∫ x^k q_3 dx over the curve (eq. S4; notation of ISO 9276-2; q_3 by mass).
 *
 * @param curve cumulative undersize
 * @param order k, e.g. 1 for the mass mean, −1 for the Sauter mean
 * @returns [m^k]; NaN for negative orders where more than 20 % of it comes from the two finest octaves: such a moment
 *   depends on sizes the curve does not resolve
 */
export function moment(curve: SizeCurve, order: number): number {
  const { sum, finest } = integrate(curve, order);
  if (order < 0 && finest > UNRESOLVED * sum) return Number.NaN;
  return sum / (curve.undersize.at(-1)! - curve.undersize[0]!);
}

/**
 * Share of a moment that comes from the two finest octaves of the curve: for k = −1 the share of the surface whose size
 * is least sure.
 *
 * @returns 0…1
 */
export function finestShare(curve: SizeCurve, order: number): number {
  const { sum, finest } = integrate(curve, order);
  return finest / sum;
}

/** ∫ x^k dQ, all of it and over the two finest octaves, by Simpson's rule in ln x inside each interval of the cubic. */
function integrate(curve: SizeCurve, order: number): { readonly sum: number; readonly finest: number } {
  const { edges, undersize, slopes } = curve;
  const last = edges.length - 1;
  const resolved = FINEST * edges[0]!;
  let sum = 0;
  let finest = 0;
  let ratio = 0;
  let width = 0;
  let half = 0;
  let right = raised(edges[0]!, order);
  for (let i = 0; i < last; i++) {
    const left = right;
    right = raised(edges[i + 1]!, order);
    const rise = undersize[i + 1]! - undersize[i]!;
    if (rise === 0) continue;
    // on a geometric grid one logarithm and one root serve all intervals
    if (Math.abs(edges[i + 1]! - ratio * edges[i]!) > SAME_RATIO * edges[i]!) {
      ratio = edges[i + 1]! / edges[i]!;
      width = Math.log(ratio);
      half = raised(Math.sqrt(ratio), order);
    }
    // density of the cubic at both ends and, four times, in the middle: by Simpson's rule they make up the rise
    const from = slopes[i]! * width;
    const to = slopes[i + 1]! * width;
    sum += (from + (6 * rise - from - to) * half) * left + to * right;
    if (edges[i + 1]! <= resolved) finest = sum;
  }
  return { sum: sum / 6, finest: finest / 6 };
}

/** x̄_{1,3} = M_{1,3}: mean weighted by mass, d43 [m]. */
export function massMeanSize(curve: SizeCurve): number {
  return moment(curve, 1);
}

/** x̄_{1,2} = 1/M_{−1,3}: Sauter mean, d32 [m]; NaN where it depends on sizes not resolved (e.g. RRSB with n ≤ 1). */
export function sauterMeanSize(curve: SizeCurve): number {
  return 1 / moment(curve, -1);
}

/** (x90 − x10)/x50. */
export function span(curve: SizeCurve): number {
  return (sizeAt(curve, 0.9) - sizeAt(curve, 0.1)) / sizeAt(curve, 0.5);
}

/** Specific surface 6/(ρ ψ_s d32) [m²/kg]. */
export function specificSurface(curve: SizeCurve, density: number, sphericity: number): number {
  return 6 / (density * sphericity * sauterMeanSize(curve));
}
