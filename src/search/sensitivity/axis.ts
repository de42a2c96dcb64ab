import { isNamed } from '../../scenario/design/coordinate.ts';
import type { Factor } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';

/** How a factor's column is laid out: over a range, evenly in the value or its logarithm, or over names. */
export type Axis =
  | { readonly kind: 'range'; readonly low: number; readonly high: number; readonly log: boolean }
  | { readonly kind: 'names'; readonly count: number };

/** Axis of a factor's column, in the column's unit. */
export function axisOf(factor: Factor, values: Float64Array): Axis {
  if (isNamed(factor) && factor.kind === 'levels') {
    return { kind: 'names', count: new Set(factor.levels).size };
  }
  if (factor.kind === 'number') {
    const ends = [toShown(factor.from, factor.shownIn), toShown(factor.to, factor.shownIn)];
    return { kind: 'range', low: Math.min(...ends), high: Math.max(...ends), log: factor.scale === 'log' };
  }
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return { kind: 'range', low, high, log: false };
}

/** Place of a value on an axis of a range, 0 at its low end and 1 at its high end. */
export function placeOn(axis: Extract<Axis, { kind: 'range' }>, value: number): number {
  const { low, high, log } = axis;
  if (high === low) return 0.5;
  return log ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
}
