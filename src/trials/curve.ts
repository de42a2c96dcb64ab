import { buildCurve, type SizeCurve, sizeAt, undersizeAt } from '../model/psd/curve.ts';
import type { MeasuredSample, SizePoint } from './read/sample.ts';

/** How far below the smallest measured size an edge with Q = 0 is set, so that the first interval can be inverted. */
const FINE_EDGE = 0.5;

/**
 * Curve through measured points. What is finer than the smallest size is not invented: percentiles there are NaN.
 *
 * @param points ascending in size; at least one
 */
export function curveThrough(points: readonly SizePoint[]): SizeCurve {
  const first = points[0]!;
  const open = first.undersize > 0;
  const edges = open ? [first.size * FINE_EDGE ** 2, first.size * FINE_EDGE] : [first.size * FINE_EDGE];
  const all = [...edges.map((size) => ({ size, undersize: 0 })), ...points];
  return buildCurve(
    Float64Array.from(all, (point) => point.size),
    Float64Array.from(all, (point) => point.undersize),
  );
}

/**
 * Size below which a share of a sample lies. Stated percentiles are given as stated; between them ln x is linear in the
 * share.
 *
 * @param share Q, 0…1
 * @returns [m]; NaN outside what was measured
 */
export function percentileOf(sample: MeasuredSample, share: number): number {
  const { points } = sample;
  const exact = points.find((point) => Math.abs(point.undersize - share) < 1e-12);
  if (exact && points.filter((point) => Math.abs(point.undersize - share) < 1e-12).length === 1)
    return exact.size;
  if (share < points[0]!.undersize || share > points[points.length - 1]!.undersize) return Number.NaN;
  if (sample.kind === 'percentiles') return between(points, share);
  return sizeAt(curveThrough(points), share);
}

function between(points: readonly SizePoint[], share: number): number {
  const above = points.findIndex((point) => point.undersize >= share);
  const low = points[above - 1]!;
  const high = points[above]!;
  const part = (share - low.undersize) / (high.undersize - low.undersize);
  return low.size * (high.size / low.size) ** part;
}

/**
 * Share finer than a size; NaN outside what was measured.
 *
 * @param size [m]
 */
export function shareBelow(sample: MeasuredSample, size: number): number {
  const { points } = sample;
  const exact = points.find((point) => Math.abs(point.size / size - 1) < 1e-9);
  if (exact) return exact.undersize;
  if (size < points[0]!.size) return points[0]!.undersize === 0 ? 0 : Number.NaN;
  const last = points[points.length - 1]!;
  if (size > last.size) return last.undersize > 1 - 1e-9 ? 1 : Number.NaN;
  return undersizeAt(curveThrough(points), size);
}
