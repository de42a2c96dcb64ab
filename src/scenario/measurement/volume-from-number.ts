import type { SizePoint } from './measured-sample.ts';

/**
 * Number distribution → volume distribution: ΔQ_3 ∝ x̄³ ΔQ_0, x̄ the geometric middle of each class (ISO 9276-2 forms,
 * recalled). The part finer than the smallest size is taken at one class ratio below it. Noise at the coarse end is
 * raised by the cube.
 *
 * @param points by number, ascending
 * @returns by volume, at the same sizes
 */
export function volumeFromNumber(points: readonly SizePoint[]): SizePoint[] {
  const ratio = points.length > 1 ? points[1]!.size / points[0]!.size : 2;
  let before = 0;
  let sum = 0;
  const sums = points.map(({ size, undersize }, i) => {
    const lower = points[i - 1]?.size ?? size / ratio;
    sum += (undersize - before) * Math.sqrt(lower * size) ** 3;
    before = undersize;
    return sum;
  });
  return points.map(({ size }, i) => ({ size, undersize: sums[i]! / sum }));
}
