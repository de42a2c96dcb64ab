/** Cumulative undersize known at class edges; between them a monotone cubic in ln x. */
export interface SizeCurve {
  /** Edges [m], ascending. */
  readonly edges: Float64Array;
  /** Q at each edge, 0…1. */
  readonly undersize: Float64Array;
  /** dQ/d ln x at each edge of the monotone cubic. */
  readonly slopes: Float64Array;
}
export function buildCurve(edges: Float64Array, undersize: Float64Array): SizeCurve {
  return { edges, undersize, slopes: new Float64Array(edges.length) };
}
export function undersizeAt(c: SizeCurve, x: number): number {
  const i = c.edges.findIndex((e) => e >= x);
  const t = Math.log(x / c.edges[i - 1]!) / Math.log(c.edges[i]! / c.edges[i - 1]!);
  return c.undersize[i - 1]! + t * (c.undersize[i]! - c.undersize[i - 1]!);
}
export function sizeAt(c: SizeCurve, q: number): number {
  const i = c.undersize.findIndex((e) => e >= q);
  if (i < 2) return Number.NaN;
  const t = (q - c.undersize[i - 1]!) / (c.undersize[i]! - c.undersize[i - 1]!);
  return c.edges[i - 1]! * (c.edges[i]! / c.edges[i - 1]!) ** t;
}
