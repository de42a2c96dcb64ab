import { NORMAL_95 } from '../../trials/fit/quantile.ts';
import { type Axis, placeOn } from './axis.ts';

/** Mean of a quantity where a factor has one level, or lies in one slice of its range. */
export interface EffectLevel {
  /** Level, or mean of the values in the slice, in the column's unit; code of a name. */
  readonly at: number;
  readonly mean: number;
  /** 95 % bounds of the mean, as if the rows were a random sample. */
  readonly low: number;
  readonly high: number;
  /** Rows it is taken over. */
  readonly count: number;
}

/** Slices of a range with more values than that. */
const SLICES = 12;

/**
 * Main effect of a factor: the mean of y at each of its levels, or in slices of its range.
 *
 * @param x values of the factor; NaN (a factor that changes nothing there) is left out
 */
export function mainEffect(axis: Axis, x: Float64Array, y: Float64Array): EffectLevel[] {
  const levels = distinct(x);
  const slotOf =
    levels.size <= SLICES || axis.kind === 'names' ? (value: number) => levels.get(value)! : sliced(axis);
  const slots = new Map<number, { at: number; mean: number; sum: number; count: number }>();
  for (let i = 0; i < x.length; i++) {
    if (Number.isNaN(x[i]) || Number.isNaN(y[i])) continue;
    const key = slotOf(x[i]!);
    let slot = slots.get(key);
    if (slot === undefined) {
      slot = { at: 0, mean: 0, sum: 0, count: 0 };
      slots.set(key, slot);
    }
    slot.count++;
    slot.at += (x[i]! - slot.at) / slot.count;
    const step = y[i]! - slot.mean;
    slot.mean += step / slot.count;
    slot.sum += step * (y[i]! - slot.mean);
  }
  return [...slots.values()]
    .sort((a, b) => a.at - b.at)
    .map(({ at, mean, sum, count }) => {
      const spread = count > 1 ? NORMAL_95 * Math.sqrt(sum / (count - 1) / count) : Number.NaN;
      return { at, mean, low: mean - spread, high: mean + spread, count };
    });
}

function sliced(axis: Axis): (value: number) => number {
  if (axis.kind === 'names') return (value) => value;
  return (value) => Math.min(SLICES - 1, Math.floor(SLICES * placeOn(axis, value)));
}

/** Distinct values, numbered, but no more than are needed to know that there are many. */
function distinct(x: Float64Array): Map<number, number> {
  const found = new Map<number, number>();
  for (const value of x) {
    if (!Number.isNaN(value) && !found.has(value)) found.set(value, found.size);
    if (found.size > 1000) break;
  }
  return found;
}
