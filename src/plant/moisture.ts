import { dewPoint, saturationPressure, VAPOUR_RATIO } from '../model/air.ts';
import type { Parameter, Warning } from '../model/parameters.ts';
import { assumed, practice } from './plant-evidence.ts';

/** What the product stands, SI; a limit left out is not known. */
export interface ProductLimits {
  /** Water in the feed, by mass of feed [-]. */
  readonly moisture: number;
  readonly highestTemperature?: number;
  readonly criticalHumidity?: number;
  /** Temperature the packed product cools to [K]. */
  readonly storageTemperature: number;
  /** Temperature of the coldest wall the air meets [K]; left out, the inlet air's. */
  readonly coldestWall?: number;
  readonly bulkDensity: number;
}

/** `plant.product`. */
export const PRODUCT_LIMITS: readonly Parameter[] = [
  {
    name: 'moisture',
    symbol: 'X',
    unit: '1',
    shownIn: '%',
    meaning: 'water in the feed, by mass of feed',
    minimum: 0,
    maximum: 0.9,
    preset: assumed(0),
  },
  {
    name: 'highestTemperature',
    symbol: 'T_max',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'temperature from which the product softens, melts, oxidises or loses aroma',
    exclusiveMinimum: 200,
    maximum: 600,
    optional: true,
  },
  {
    name: 'criticalHumidity',
    symbol: 'φ_crit',
    unit: '1',
    shownIn: '%',
    meaning: 'relative humidity from which the product takes up water and cakes, at the storage temperature',
    exclusiveMinimum: 0,
    maximum: 1,
    optional: true,
  },
  {
    name: 'storageTemperature',
    symbol: 'T_st',
    unit: 'K',
    shownIn: 'degC',
    meaning: 'temperature the packed product cools to',
    exclusiveMinimum: 200,
    maximum: 400,
    preset: practice(293.15, 'a store in a temperate climate'),
  },
  {
    name: 'coldestWall',
    symbol: 'T_wall',
    unit: 'K',
    shownIn: 'degC',
    meaning:
      'coldest wall the product air meets (filter, duct outdoors); left out, the temperature of the inlet air',
    exclusiveMinimum: 200,
    maximum: 400,
    optional: true,
  },
  {
    name: 'bulkDensity',
    symbol: 'ρ_b',
    unit: 'kg/m^3',
    shownIn: 'kg/m^3',
    meaning: 'bulk density of the product as the airlocks get it',
    exclusiveMinimum: 0,
    maximum: 10_000,
    preset: assumed(500),
  },
];

/** Distance from the dew point without a caution [K] (`practice`). */
const DEW_GUARD = 10;

/** Vapour pressure of air with a humidity ratio [Pa]: p W/(0.621945 + W). */
function vapourPressure(ratio: number, pressure: number): number {
  return (pressure * ratio) / (VAPOUR_RATIO + ratio);
}

/**
 * Relative humidity of air brought to a temperature, p_v/p_ws(T) [-] (eq. P20); above 1 the excess condenses.
 *
 * @param ratio humidity ratio W [kg/kg]
 * @param pressure [Pa]
 * @param temperature [K]
 */
function relativeHumidity(ratio: number, pressure: number, temperature: number): number {
  return vapourPressure(ratio, pressure) / saturationPressure(temperature);
}

export interface MoistureState {
  /** Relative humidity of the air with the product where it is collected [-]. */
  readonly humidity: number;
  /** The same air cooled to the storage temperature, as it lies between the packed particles [-]. */
  readonly storedHumidity: number;
  /** Dew point [K]; NaN for dry air. */
  readonly dewPoint: number;
  /** Coldest of air and wall above the dew point [K]; infinite for dry air. */
  readonly dewMargin: number;
  /** Product temperature below its highest [K]; NaN where that is not known. */
  readonly temperatureMargin: number;
  /** Critical less stored humidity [-]; NaN where the critical is not known. */
  readonly humidityMargin: number;
  readonly warnings: readonly Warning[];
}

/**
 * Dew-point guard, heat limit and caking caution at the place where product leaves the air.
 *
 * Warm air that leaves with the product cools between the particles: its humidity at the storage temperature, not in the
 * duct, decides whether a hygroscopic product cakes (`practice`; powder's own water is left out).
 *
 * @param limits what the product stands
 * @param air humidity ratio [kg/kg], the collector's own pressure and that outside, where the product is stored [Pa], temperature
 *   [K] at the collector, and the inlet's
 */
export function moistureState(
  limits: ProductLimits,
  air: {
    readonly humidityRatio: number;
    readonly pressure: number;
    readonly outsidePressure: number;
    readonly temperature: number;
    readonly inletTemperature: number;
  },
): MoistureState {
  const { humidityRatio: ratio, pressure, temperature } = air;
  const dew = dewPoint(ratio, pressure);
  const coldest = Math.min(temperature, limits.coldestWall ?? air.inletTemperature);
  const storedHumidity = relativeHumidity(ratio, air.outsidePressure, limits.storageTemperature);
  const state = {
    humidity: relativeHumidity(ratio, pressure, temperature),
    storedHumidity,
    dewPoint: dew,
    dewMargin: Number.isNaN(dew) ? Number.POSITIVE_INFINITY : coldest - dew,
    temperatureMargin: (limits.highestTemperature ?? Number.NaN) - temperature,
    humidityMargin: (limits.criticalHumidity ?? Number.NaN) - storedHumidity,
  };
  return { ...state, warnings: moistureWarnings(state) };
}

function moistureWarnings(state: Omit<MoistureState, 'warnings'>): Warning[] {
  const found: Warning[] = [];
  if (state.dewMargin <= 0) {
    found.push({
      code: 'dew-point',
      message: `water condenses: the coldest wall is ${(-state.dewMargin).toFixed(1)} K below the dew point`,
    });
  } else if (state.dewMargin < DEW_GUARD) {
    found.push({
      code: 'dew-point',
      message: `the coldest wall is only ${state.dewMargin.toFixed(1)} K above the dew point: keep ${DEW_GUARD} K, insulate or heat it`,
    });
  }
  if (state.temperatureMargin < 0) {
    found.push({
      code: 'product-temperature',
      message: `product air is ${(-state.temperatureMargin).toFixed(1)} K above the product's temperature limit; surfaces in the mill are hotter still`,
    });
  }
  if (state.humidityMargin < 0) {
    found.push({
      code: 'caking',
      message: `air packed with the product reaches ${Math.round(100 * state.storedHumidity)} % relative humidity in store, above the product's critical humidity: it may cake; dry the air or cool and vent the product before packing`,
    });
  }
  if (Number.isNaN(state.humidityMargin)) {
    found.push({
      code: 'caking-unknown',
      message: 'critical humidity of the product not given: caking is not judged',
    });
  }
  if (Number.isNaN(state.temperatureMargin)) {
    found.push({
      code: 'heat-unknown',
      message: 'highest product temperature not given: heat damage is not judged',
    });
  }
  return found;
}
