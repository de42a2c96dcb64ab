import type { Unit } from 'mathjs';
import { isolatedMath } from '../units/mathjs.ts';

/** Kind of an expression: powers of the base units, and whether a temperature is a point on the scale or a difference. */
export interface Dimension {
  /** Powers of mass, length, time, … as the unit library orders them. */
  readonly powers: readonly number[];
  /** Counted from absolute zero, so that it cannot be added or scaled: `50 degC`, `outletTemperature`. */
  readonly absolute: boolean;
}

/** Dimension of an SI unit such as `kg/(J m)`; `1` is a pure number. */
export function dimensionOf(siUnit: string): Dimension {
  const unit = isolatedMath().unit(siUnit === '1' ? '1' : siUnit.startsWith('1/') ? siUnit : `1 ${siUnit}`);
  return { powers: (unit as Unit & { dimensions: number[] }).dimensions, absolute: false };
}

/** A pure number. */
export function isPure(dimension: Dimension): boolean {
  return dimension.powers.every((power) => power === 0);
}

/** Same base units, whatever the point of a temperature scale. */
export function sameBase(a: Dimension, b: Dimension): boolean {
  return a.powers.every((power, i) => power === b.powers[i]);
}

/** Dimension of a product (`sign` 1) or quotient (`sign` −1). */
export function combine(a: Dimension, b: Dimension, sign: 1 | -1): Dimension {
  return { powers: a.powers.map((power, i) => power + sign * b.powers[i]!), absolute: false };
}
