import type { MeasuredSample, SizePoint } from './measured-sample.ts';

/**
 * Size below which a share of a sample lies: linear in ln x between measured points, as instruments report it (a smooth
 * curve through a kinked record misses the instrument's own median by 0.8 % where a straight one meets it).
 *
 * @param share Q, 0…1
 * @returns [m]; NaN outside what was measured
 */
export function percentileOf({ points }: MeasuredSample, share: number): number {
  const above = points.findIndex((point) => point.undersize >= share - 1e-12);
  if (above < 0) return Number.NaN;
  const high = points[above]!;
  if (Math.abs(high.undersize - share) <= 1e-12) return high.size;
  const low = points[above - 1];
  if (!low) return Number.NaN;
  const part = (share - low.undersize) / (high.undersize - low.undersize);
  return low.size * (high.size / low.size) ** part;
}

/**
 * Share finer than a size, linear in ln x between measured points.
 *
 * @param size [m]
 * @returns Q; NaN outside what was measured
 */
export function shareBelow({ points }: { readonly points: readonly SizePoint[] }, size: number): number {
  const last = points[points.length - 1]!;
  if (size > last.size * (1 + 1e-9)) return last.undersize > 1 - 1e-9 ? 1 : Number.NaN;
  const above = points.findIndex((point) => point.size >= size * (1 - 1e-9));
  const high = points[above]!;
  if (Math.abs(high.size / size - 1) <= 1e-9) return high.undersize;
  const low = points[above - 1];
  if (!low) return high.undersize === 0 ? 0 : Number.NaN;
  const part = Math.log(size / low.size) / Math.log(high.size / low.size);
  return low.undersize + part * (high.undersize - low.undersize);
}
