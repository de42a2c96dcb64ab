import { type SizeCurve, sizeAt } from './curve.ts';

/** A moment that draws more than this share from the two finest octaves of the curve hangs on what is not resolved. */
const UNRESOLVED = 0.1;
const FINEST = 4;

/**
 * Moment of the mass distribution, M_{k,3} = ∫ x^k q_3 dx over the curve (notation of ISO 9276-2; q_3 by mass), by
 * Simpson's rule in ln x inside each interval of the cubic.
 *
 * @param curve cumulative undersize
 * @param order k, e.g. 1 for the mass mean, −1 for the Sauter mean
 * @returns [m^k]; NaN for negative orders where more than 10 % of it comes from the two finest octaves: such a moment
 *   hangs on sizes the curve does not resolve
 */
export function moment(curve: SizeCurve, order: number): number {
  const { edges, undersize, slopes } = curve;
  const last = edges.length - 1;
  const whole = undersize[last]! - undersize[0]!;
  let sum = 0;
  let finest = 0;
  for (let i = 0; i < last; i++) {
    const width = Math.log(edges[i + 1]! / edges[i]!);
    const rise = undersize[i + 1]! - undersize[i]!;
    const [from, to] = [slopes[i]! * width, slopes[i + 1]! * width];
    // density of the cubic at both ends and the middle
    const middle = 1.5 * rise - (from + to) / 4;
    const scale = (rise * 6) / (from + 4 * middle + to || 1);
    const at = (t: number) => (edges[i]! * Math.exp(t * width)) ** order;
    sum += (scale * (from * at(0) + 4 * middle * at(0.5) + to * at(1))) / 6;
    if (edges[i + 1]! < FINEST * edges[0]!) finest = sum;
  }
  if (order < 0 && finest > UNRESOLVED * sum) return Number.NaN;
  return sum / whole;
}

/** x̄_{1,3} = M_{1,3}: mean weighted by mass, d43 [m]. */
export function massMeanSize(curve: SizeCurve): number {
  return moment(curve, 1);
}

/** x̄_{1,2} = 1/M_{−1,3}: Sauter mean, d32 [m]; NaN where it hangs on sizes not resolved (e.g. RRSB with n ≤ 1). */
export function sauterMeanSize(curve: SizeCurve): number {
  return 1 / moment(curve, -1);
}

/** (x90 − x10)/x50. */
export function span(curve: SizeCurve): number {
  return (sizeAt(curve, 0.9) - sizeAt(curve, 0.1)) / sizeAt(curve, 0.5);
}

/** Specific surface 6/(ρ ψ d32) [m²/kg]. */
export function specificSurface(curve: SizeCurve, density: number, sphericity: number): number {
  return 6 / (density * sphericity * sauterMeanSize(curve));
}
