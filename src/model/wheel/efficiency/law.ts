import type { LawChoice, LawHeader } from '../../parameters.ts';

/** Reduced grade efficiency to coarse over z = x/x_c (eq. 19). */
export interface EfficiencyLaw extends LawHeader {
  /** Shape parameter (m, k, a …) that gives sharpness κ = x25/x75. */
  readonly shape: (sharpness: number, parameters: LawChoice) => number;
  /** Range of κ the law can express, ends allowed; κ outside is clamped with a warning. */
  readonly sharpnessRange: readonly [number, number];
  /** 1 − T(z), computed directly so that no digit is lost above the cut; T(1) = ½. */
  readonly passing: (z: number, shape: number, parameters: LawChoice) => number;
  /**
   * Fills out[i] = passing(z_0·ratio^i), from ≤ i < to, on a geometric grid, writing in place and allocating nothing;
   * laws without one are filled class by class. Values below `negligible` may be written as zero.
   */
  readonly fillPassing?: (
    firstZ: number,
    logRatio: number,
    shape: number,
    out: Float64Array,
    from: number,
    to: number,
    negligible: number,
  ) => void;
}
