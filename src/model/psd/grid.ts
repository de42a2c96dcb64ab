/** Geometric size classes (physics section 1): class i is (edges[i], edges[i+1]], class 0 also all finer. */
export interface Grid {
  /** n+1 edges e_0 < … < e_n [m]. */
  readonly edges: Float64Array;
  /** n representative sizes x_i = √(e_i e_{i+1}) [m]. */
  readonly sizes: Float64Array;
  /** n. */
  readonly classes: number;
  /** e_{i+1}/e_i [-]. */
  readonly ratio: number;
}
