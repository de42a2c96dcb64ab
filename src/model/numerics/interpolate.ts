import type { Table } from '../parameters.ts';

/**
 * Monotone interpolation of a user's points in ln of the first column: cubic Hermite with Fritsch–Butland slopes
 * (`published`: SIAM J. Sci. Stat. Comput. 5 (1984) 300), the end values beyond the ends.
 *
 * @param points ascending in the first column, at least two rows
 * @param at where, in the unit of the first column
 */
export function interpolate(points: Table, at: number): number {
  const last = points.length - 1;
  if (!(at > points[0]![0])) return points[0]![1];
  if (at >= points[last]![0]) return points[last]![1];
  let i = 0;
  while (points[i + 1]![0] < at) i++;
  const x = (k: number) => Math.log(points[k]![0]);
  const secant = (k: number) => (points[k + 1]![1] - points[k]![1]) / (x(k + 1) - x(k));
  const slope = (k: number): number => {
    if (k === 0) return secant(0);
    if (k === last) return secant(last - 1);
    const [before, after] = [secant(k - 1), secant(k)];
    if (before * after <= 0) return 0;
    const [left, right] = [x(k) - x(k - 1), x(k + 1) - x(k)];
    return (3 * (left + right)) / ((2 * right + left) / before + (right + 2 * left) / after);
  };
  const width = x(i + 1) - x(i);
  const t = (Math.log(at) - x(i)) / width;
  const rise = points[i + 1]![1] - points[i]![1];
  const from = slope(i) * width;
  const to = slope(i + 1) * width;
  return points[i]![1] + t * (from + t * (3 * rise - 2 * from - to + t * (from + to - 2 * rise)));
}
