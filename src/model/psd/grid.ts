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
  /** ln of it. */
  readonly logRatio: number;
}
export function buildGrid(o: { smallest: number; top: number; classesPerOctave: number }): Grid {
  const n = Math.max(2, Math.ceil(Math.log2(o.top / o.smallest) * o.classesPerOctave - 1e-9));
  const ratio = 2 ** (1 / o.classesPerOctave);
  const edges = Float64Array.from({ length: n + 1 }, (_, i) => o.smallest * 2 ** (i / o.classesPerOctave));
  const sizes = Float64Array.from({ length: n }, (_, i) => Math.sqrt(edges[i]! * edges[i + 1]!));
  return { edges, sizes, classes: n, ratio, logRatio: Math.log(ratio) };
}
export const classesNeeded = (m: number) => Math.max(8, 0.55 * m);
