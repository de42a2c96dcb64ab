import type { Parameter } from '../../model/parameters.ts';

/** Measured explosion data of the dust, SI; what is left out is an unknown hazard. */
export interface DustData {
  readonly kst?: number;
  readonly highestPressure?: number;
  readonly lowerLimit?: number;
  readonly ignitionEnergy?: number;
  readonly cloudTemperature?: number;
  readonly layerTemperature?: number;
  readonly oxygenLimit?: number;
}

/** `plant.dust`: from tests on your own dust; there are no presets, and no literature values. */
export const DUST: readonly Parameter[] = [
  {
    name: 'kst',
    symbol: 'K_St',
    unit: 'Pa m/s',
    shownIn: 'bar m/s',
    meaning: 'normalised rate of pressure rise of your own dust',
    minimum: 0,
    optional: true,
  },
  {
    name: 'highestPressure',
    symbol: 'p_max',
    unit: 'Pa',
    shownIn: 'bar',
    meaning: 'highest explosion overpressure of your own dust',
    minimum: 0,
    optional: true,
  },
  {
    name: 'lowerLimit',
    symbol: 'LEL',
    unit: 'kg/m^3',
    shownIn: 'g/m^3',
    meaning: 'lower explosible concentration of your own dust',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'ignitionEnergy',
    symbol: 'MIE',
    unit: 'J',
    shownIn: 'mJ',
    meaning: 'minimum ignition energy of your own dust',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'cloudTemperature',
    symbol: 'MIT',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'minimum ignition temperature of a cloud of your own dust',
    exclusiveMinimum: 273,
    optional: true,
  },
  {
    name: 'layerTemperature',
    symbol: 'LIT',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'minimum ignition temperature of a layer of your own dust',
    exclusiveMinimum: 273,
    optional: true,
  },
  {
    name: 'oxygenLimit',
    symbol: 'LOC',
    unit: '1',
    shownIn: '%',
    meaning: 'limiting oxygen concentration of your own dust',
    exclusiveMinimum: 0,
    maximum: 0.21,
    optional: true,
  },
];

/** Dust explosion class. */
type DustClass = 0 | 1 | 2 | 3;

/** Upper ends of classes St 1 and St 2 [Pa m/s] (`published`: OSHA CPL 03-00-008). */
const CLASS_ENDS = [200e5, 300e5] as const;
/** Rounding of a unit conversion must not move a value that stands on a class's end. */
const ROUNDING = 1e-12;

/**
 * Dust explosion class from K_St: St 0 none, St 1 up to 200, St 2 up to 300, St 3 above, in bar m/s (eq. P22;
 * `published`: OSHA CPL 03-00-008). A class says how violent, never that a dust is safe.
 *
 * @param kst [Pa m/s]
 * @example dustClass(200.1e5) // 2
 */
export function dustClass(kst: number): DustClass {
  if (kst <= 0) return 0;
  if (kst <= CLASS_ENDS[0] * (1 + ROUNDING)) return 1;
  return kst <= CLASS_ENDS[1] * (1 + ROUNDING) ? 2 : 3;
}

/** Relative speeds below which friction hardly ignites, and above which it readily does [m/s] (`practice`). */
export const FRICTION_SPEEDS = { slow: 1, fast: 10 } as const;

/**
 * Speed of rotation at which a rim reaches a speed, v/(2πR) (eq. P23).
 *
 * @param rim v [m/s]
 * @param radius R [m]
 * @returns [1/s]
 * @example frictionSpeed(1, 0.2) * 60 // 47.7 rpm
 */
export function frictionSpeed(rim: number, radius: number): number {
  return rim / (2 * Math.PI * radius);
}
