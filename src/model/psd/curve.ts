/** Cumulative undersize known at class edges; between them a monotone cubic in ln x. */
export interface SizeCurve {
  /** Edges [m], ascending. */
  readonly edges: Float64Array;
  /** Q at each edge, 0…1. */
  readonly undersize: Float64Array;
  /** dQ/d ln x at each edge of the monotone cubic. */
  readonly slopes: Float64Array;
}
