import type { Factor } from '../scenario.ts';
import { fromShown, toShown } from '../units/display.ts';

/** A factor whose levels are names (wheels, laws). */
export function isNamed(factor: Factor): boolean {
  return factor.kind === 'levels' && factor.levels.some((level) => typeof level === 'string');
}

/**
 * Coordinate at fraction u of a factor's range, 0 ≤ u < 1: linear, in the logarithm, over whole numbers or over
 * levels, each with an equal share.
 */
export function coordinateAt(factor: Factor, u: number): number {
  if (factor.kind === 'levels') {
    const k = Math.min(Math.floor(u * factor.levels.length), factor.levels.length - 1);
    return isNamed(factor) ? k : (factor.levels[k] as number);
  }
  const { from, to } = factor;
  if (factor.integer) {
    const low = Math.ceil(Math.min(from, to));
    const high = Math.floor(Math.max(from, to));
    return Math.min(high, low + Math.floor(u * (high - low + 1)));
  }
  if (factor.scale === 'log') return from * (to / from) ** u;
  return from + u * (to - from);
}

/**
 * Coordinates a grid takes: the levels, or `steps` values from end to end, ends exact; whole numbers without repeats.
 * The steps are laid out in the user's unit, so that 40 to 120 mm in three steps has 80 mm, not 79.99999999999999.
 */
export function gridCoordinates(factor: Factor, steps: number): Float64Array {
  if (factor.kind === 'levels') {
    return Float64Array.from(factor.levels, (level, k) => (isNamed(factor) ? k : (level as number)));
  }
  const { shownIn, scale, integer } = factor;
  const from = toShown(factor.from, shownIn);
  const to = toShown(factor.to, shownIn);
  const values: number[] = [];
  for (let k = 0; k < steps; k++) {
    const u = steps === 1 ? 0 : k / (steps - 1);
    const shown = shortest(scale === 'log' ? from * (to / from) ** u : from + u * (to - from));
    let value = fromShown(shown, shownIn);
    if (k === 0) value = factor.from;
    else if (k === steps - 1) value = factor.to;
    if (integer) value = Math.round(value);
    if (values.at(-1) !== value) values.push(value);
  }
  return Float64Array.from(values);
}

/** Decimals within which a number counts as meant to be short. */
const DECIMALS = 1e9;

/**
 * The short decimal a number is but for the rounding of a unit conversion, else the number itself.
 *
 * @example shortest(79.99999999999999) // 80
 */
export function shortest(value: number): number {
  const short = Math.round(value * DECIMALS) / DECIMALS;
  return Math.abs(short - value) <= 8 * Number.EPSILON * Math.abs(value) ? short : value;
}

/** What the scenario takes for a coordinate: a number in SI or a name. */
export function factorValue(factor: Factor, coordinate: number): number | string {
  return isNamed(factor) && factor.kind === 'levels' ? factor.levels[coordinate]! : coordinate;
}
