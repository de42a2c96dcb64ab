import type { Grid } from '../src/model/psd/grid.ts';

/** A grid of any edges, whose classes keep no ratio; sizes are their geometric middles. */
export function gridOf(edges: readonly number[]): Grid {
  const sizes = Float64Array.from({ length: edges.length - 1 }, (_, i) =>
    Math.sqrt(edges[i]! * edges[i + 1]!),
  );
  const without = { ratio: Number.NaN, logRatio: Number.NaN };
  return { edges: Float64Array.from(edges), sizes, classes: sizes.length, ...without };
}
