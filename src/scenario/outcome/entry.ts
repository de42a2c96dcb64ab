import type { Quantity } from './quantity.ts';

/** Group, key and column of a quantity in `run --json` and in sweeps; the unit's suffix stands in the key. */
export function entry(
  group: string,
  name: string,
  symbol: string,
  [unit, shownIn, suffix]: readonly [unit: string, shownIn: string, suffix: string],
  meaning: string,
  of: Quantity['of'],
  keyName: string = name,
): Quantity {
  const tail = suffix === '' ? '' : `_${suffix}`;
  return {
    name,
    symbol,
    unit,
    shownIn,
    group,
    key: `${keyName}${tail}`,
    column: `${name}${tail}`,
    meaning,
    of,
  };
}

/** SI unit, unit shown, and the suffix of keys. */
export const SIZE = ['m', 'um', 'um'] as const;
export const NUMBER = ['1', '1', ''] as const;
export const PERCENT = ['1', '%', 'pct'] as const;
export const POWER = ['W', 'kW', 'kW'] as const;
export const SPEED = ['m/s', 'm/s', 'm_per_s'] as const;
export const RATE = ['kg/s', 'kg/h', 'kg_per_h'] as const;
export const FREQUENCY = ['1/s', 'rpm', 'rpm'] as const;
export const ENERGY = ['J/kg', 'kWh/t', 'kWh_per_t'] as const;
export const PRESSURE = ['Pa', 'Pa', 'Pa'] as const;
export const FLOW = ['m^3/s', 'm^3/h', 'm3_per_h'] as const;
export const TEMPERATURE = ['K', 'degC', 'C'] as const;
/** A difference of temperatures. */
export const KELVIN = ['K', 'K', 'K'] as const;
