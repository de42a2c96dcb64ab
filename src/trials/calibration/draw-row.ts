import type { PosteriorDraw } from '../fit/sample.ts';
import { PLACES } from '../fit/shared-error.ts';

/** Numbers of a draw beside its coefficients: two errors of the model, their share, scatter, shared error of power, of sizes. */
const BESIDE = 5 + PLACES.length;

/** A draw as numbers: coefficients along their scales, then its errors. */
export function rowOf({
  coordinates,
  discrepancy,
  powerDiscrepancy,
  share,
  scatter,
  shared,
}: PosteriorDraw): number[] {
  return [...coordinates, discrepancy, powerDiscrepancy, share, scatter, shared.power, ...shared.sizes];
}

/** How many numbers a row may hold for so many coefficients: a file of an earlier version has one error a draw. */
export function rowLengths(coefficients: number): readonly [now: number, earlier: number] {
  return [coefficients + BESIDE, coefficients + 1];
}

/** The draw of a row. */
export function drawOf(row: readonly number[], coefficients: number): PosteriorDraw {
  const coordinates = row.slice(0, coefficients);
  const [discrepancy, powerDiscrepancy = discrepancy!, share = 0, scatter = 1, power = 0, ...sizes] =
    row.slice(coefficients);
  return {
    coordinates,
    discrepancy: discrepancy!,
    powerDiscrepancy: powerDiscrepancy!,
    share,
    scatter,
    shared: { power, sizes: sizes.length > 0 ? sizes : PLACES.map(() => 0) },
  };
}
