import type { LawChoice, LawHeader } from '../../parameters.ts';

/** 1 − T at the finer and the coarser of the two points that stand for a class. */
export interface ClassPassing {
  readonly finer: Float64Array;
  readonly coarser: Float64Array;
}

/** Reduced grade efficiency to coarse over z = x/x_c (eq. 19). */
export interface EfficiencyLaw extends LawHeader {
  /** Shape parameter (m, k, a …) that gives sharpness κ = x25/x75. */
  readonly shape: (sharpness: number, parameters: LawChoice) => number;
  /** Range of κ the law can express, ends allowed; κ outside is clamped with a warning. */
  readonly sharpnessRange: readonly [number, number];
  /** 1 − T(z), computed directly so that no digit is lost above the cut; T(1) = ½. */
  readonly passing: (z: number, shape: number, parameters: LawChoice) => number;
  /**
   * Fills passing at both points of classes from ≤ i < to of a geometric grid, at z_0·ratio^i over and times e^logApart,
   * writing in place and allocating nothing; laws without one are filled class by class. Values below `negligible` may be
   * written as zero.
   */
  readonly fillPassing?: (
    firstZ: number,
    logRatio: number,
    logApart: number,
    shape: number,
    passing: ClassPassing,
    from: number,
    to: number,
    negligible: number,
  ) => void;
}
