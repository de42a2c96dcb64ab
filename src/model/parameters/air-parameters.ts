import type { Parameter } from '../parameters.ts';

/** States an air flow may be stated at; standard is 15 °C and normal 0 °C, both dry at 101325 Pa. */
export const FLOW_STATES = ['inlet', 'standard', 'normal'] as const;

const ROOM = 'a mill hall in a temperate climate';

/** `air` (eq. 21). */
export const AIR: readonly Parameter[] = [
  {
    name: 'flow',
    symbol: 'Q_in',
    unit: 'm^3/s',
    shownIn: 'm^3/h',
    meaning: 'air through the mill, at the state named by `state`',
    usual: { low: 20 / 3600, high: 100_000 / 3600 },
    exclusiveMinimum: 0,
    maximum: 300,
  },
  {
    name: 'temperature',
    symbol: 'T_in',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'air temperature at the inlet',
    usual: { low: 258.15, high: 328.15 },
    minimum: 223.15,
    maximum: 423.15,
    preset: { value: 293.15, label: 'assumed', source: ROOM },
  },
  {
    name: 'pressure',
    symbol: 'p',
    unit: 'Pa',
    shownIn: 'Pa',
    meaning: 'air pressure at the inlet',
    usual: { low: 60_000, high: 120_000 },
    minimum: 20_000,
    maximum: 500_000,
    preset: { value: 101_325, label: 'assumed', source: 'sea level; give `altitude` or `pressure`' },
  },
  {
    name: 'humidity',
    symbol: 'φ',
    unit: '1',
    shownIn: '%',
    meaning: 'relative humidity at the inlet',
    usual: { low: 0.05, high: 1 },
    minimum: 0,
    maximum: 1,
    preset: { value: 0.5, label: 'assumed', source: ROOM },
  },
];

/** `air.altitude`, from which the pressure follows. */
export const ALTITUDE: Parameter = {
  name: 'altitude',
  symbol: 'Z',
  unit: 'm',
  shownIn: 'm',
  meaning: 'height above sea level',
  minimum: -500,
  maximum: 5000,
  optional: true,
};
