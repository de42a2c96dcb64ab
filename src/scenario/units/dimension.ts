/** Kind of an expression: powers of the base units, and whether a temperature is a point on the scale or a difference. */
export interface Dimension {
  /** Powers of mass, length, time, current, temperature, luminous intensity, amount, angle, bits: the unit library's order. */
  readonly powers: readonly number[];
  /** Counted from absolute zero, so that it cannot be added or scaled: `50 degC`, `outletTemperature`. */
  readonly absolute: boolean;
}

const NONE = [0, 0, 0, 0, 0, 0, 0, 0, 0] as const;
/** Powers of the units that SI units here are made of. */
const POWERS: Readonly<Record<string, readonly number[]>> = {
  '1': NONE,
  kg: [1, 0, 0, 0, 0, 0, 0, 0, 0],
  m: [0, 1, 0, 0, 0, 0, 0, 0, 0],
  s: [0, 0, 1, 0, 0, 0, 0, 0, 0],
  A: [0, 0, 0, 1, 0, 0, 0, 0, 0],
  K: [0, 0, 0, 0, 1, 0, 0, 0, 0],
  rad: [0, 0, 0, 0, 0, 0, 0, 1, 0],
  N: [1, 1, -2, 0, 0, 0, 0, 0, 0],
  Pa: [1, -1, -2, 0, 0, 0, 0, 0, 0],
  J: [1, 2, -2, 0, 0, 0, 0, 0, 0],
  W: [1, 2, -3, 0, 0, 0, 0, 0, 0],
  V: [1, 2, -3, -1, 0, 0, 0, 0, 0],
};

/**
 * Dimension of an SI unit such as `kg/(J m)`; `1` is a pure number.
 *
 * @throws RangeError where it is made of a unit that is not listed here
 */
export function dimensionOf(siUnit: string): Dimension {
  const [above = '', below = ''] = siUnit.replaceAll(/[()]/g, '').split('/');
  const powers = [...NONE] as number[];
  for (const [text, sign] of [
    [above, 1],
    [below, -1],
  ] as const) {
    for (const factor of text.split(' ').filter(Boolean)) {
      const [unit, exponent = '1'] = factor.split('^');
      if (!Object.hasOwn(POWERS, unit!)) throw new RangeError(`no SI unit ${siUnit}`);
      POWERS[unit!]!.forEach((power, i) => {
        powers[i]! += sign * Number(exponent) * power;
      });
    }
  }
  return { powers, absolute: false };
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
