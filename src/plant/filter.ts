import type { Parameter, Warning } from '../model/parameters.ts';
import { assumed, PLANT_SOURCES, practice } from './plant-evidence.ts';

/** Numbers of a pulse-cleaned bag filter, SI; a number of bags left out is the one the air-to-cloth ratio requires. */
export interface Filter {
  readonly bags?: number;
  readonly airToCloth: number;
  readonly bagDiameter: number;
  readonly bagLength: number;
  readonly pitch: number;
  readonly mediumResistance: number;
  readonly cakeResistance: number;
  readonly cleaningInterval: number;
  readonly penetration: number;
  readonly highestLoss: number;
}

/** `plant.filter`. */
export const FILTER: readonly Parameter[] = [
  {
    name: 'bags',
    symbol: 'n_B',
    unit: '1',
    shownIn: '1',
    meaning: 'number of bags; left out, as many as the air-to-cloth ratio requires',
    minimum: 1,
    maximum: 100_000,
    integer: true,
    optional: true,
  },
  {
    name: 'airToCloth',
    symbol: 'v_f',
    unit: 'm/s',
    shownIn: 'm/min',
    meaning: 'air-to-cloth ratio: highest the dust allows, and what a filter left out is sized for',
    exclusiveMinimum: 0,
    maximum: 0.2,
    preset: practice(1.2 / 60, PLANT_SOURCES.filtration),
  },
  {
    name: 'bagDiameter',
    symbol: 'd_B',
    unit: 'm',
    shownIn: 'mm',
    meaning: 'bag diameter',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: practice(0.12, PLANT_SOURCES.filtration),
  },
  {
    name: 'bagLength',
    symbol: 'l_B',
    unit: 'm',
    shownIn: 'm',
    meaning: 'bag length',
    exclusiveMinimum: 0,
    maximum: 15,
    preset: practice(2, PLANT_SOURCES.filtration),
  },
  {
    name: 'pitch',
    symbol: 't_B',
    unit: '1',
    shownIn: '1',
    meaning: 'distance of bag axes over bag diameter, square pattern',
    exclusiveMinimum: 1,
    maximum: 5,
    preset: practice(1.5, PLANT_SOURCES.filtration),
  },
  {
    name: 'mediumResistance',
    symbol: 'k_m',
    unit: 'Pa s/m',
    shownIn: 'Pa s/m',
    meaning: 'pressure loss of the cleaned bag over filtration velocity',
    minimum: 0,
    preset: assumed(2e4),
  },
  {
    name: 'cakeResistance',
    symbol: 'k_c',
    unit: '1/s',
    shownIn: '1/s',
    meaning: 'pressure loss of the cake over filtration velocity and cake mass per area',
    minimum: 0,
    preset: assumed(6e4),
  },
  {
    name: 'cleaningInterval',
    symbol: 't_c',
    unit: 's',
    shownIn: 's',
    meaning: 'time between two cleanings of one bag',
    exclusiveMinimum: 0,
    preset: practice(180, PLANT_SOURCES.filtration),
  },
  {
    name: 'penetration',
    symbol: 'P_f',
    unit: '1',
    shownIn: '%',
    meaning: 'share of the dust that gets through; this is not a measured emission',
    minimum: 0,
    maximum: 1,
    preset: assumed(1e-4),
  },
  {
    name: 'highestLoss',
    symbol: 'Δp_f,max',
    unit: 'Pa',
    shownIn: 'Pa',
    meaning: 'highest pressure loss the filter may have',
    exclusiveMinimum: 0,
    preset: practice(2000, PLANT_SOURCES.filtration),
  },
];

export interface FilterState {
  readonly bags: number;
  readonly given: boolean;
  /** Cloth area [m²] and the air-to-cloth ratio at this flow [m/s]. */
  readonly area: number;
  readonly airToCloth: number;
  /** Upward velocity between the bags of a filter fed from below [m/s]. */
  readonly canVelocity: number;
  /** Cake mass per area just before cleaning [kg/m²]. */
  readonly cake: number;
  readonly pressureLoss: number;
  readonly warnings: readonly Warning[];
}

/** Cloth area a flow needs [m²]: Q over the air-to-cloth ratio. */
export function clothArea(flow: number, airToCloth: number): number {
  return flow / airToCloth;
}

/**
 * Bags of π d l each for an area, rounded up.
 *
 * @example bagCount(150, 0.1, 5) // 96
 */
export function bagCount(area: number, diameter: number, length: number): number {
  // an exact fit must not gain a bag by rounding of the last digit
  return Math.ceil(area / (Math.PI * diameter * length) - 1e-9);
}

/**
 * Pulse-cleaned filter: area, can velocity, pressure loss just before cleaning (eq. P17).
 *
 * Δp = k_m v + k_c w v, w = c v t_c with c the dust in the air and v the air-to-cloth ratio; can velocity =
 * Q/(n (t_B d)² − n π d²/4) (`practice` form; resistances `assumed`, they belong to one dust on one cloth).
 *
 * @param filter numbers, SI
 * @param duty air flow [m³/s] and dust [kg/s]
 * @param designFlow air flow a filter left out is sized for [m³/s]
 */
export function bagFilter(
  filter: Filter,
  duty: { readonly flow: number; readonly dust: number },
  designFlow: number,
): FilterState {
  const { bagDiameter, bagLength, pitch } = filter;
  const asked = clothArea(SIZING_RESERVE * designFlow, filter.airToCloth);
  const bags = filter.bags ?? bagCount(asked, bagDiameter, bagLength);
  const area = bags * Math.PI * bagDiameter * bagLength;
  const velocity = duty.flow / area;
  const cake = (duty.dust / area) * filter.cleaningInterval;
  const free = bags * bagDiameter * bagDiameter * (pitch * pitch - Math.PI / 4);
  const canVelocity = duty.flow / free;
  const pressureLoss = (filter.mediumResistance + filter.cakeResistance * cake) * velocity;
  return {
    bags,
    given: filter.bags !== undefined,
    area,
    airToCloth: velocity,
    canVelocity,
    cake,
    pressureLoss,
    warnings: filterWarnings(filter, velocity, canVelocity, pressureLoss),
  };
}

/** Air flow a filter left out is sized for, over the design flow: suction thins the air, leaks add to it (`assumed`). */
const SIZING_RESERVE = 1.1;
/** Upward velocity above which fines no longer settle between the bags [m/s] (`practice`). */
const HIGHEST_CAN_VELOCITY = 1;

function filterWarnings(filter: Filter, velocity: number, can: number, loss: number): Warning[] {
  const found: Warning[] = [];
  if (velocity > filter.airToCloth * (1 + 1e-9)) {
    found.push({
      code: 'filter-air-to-cloth',
      message: `the filter runs at ${(60 * velocity).toFixed(2)} m/min where ${(60 * filter.airToCloth).toFixed(2)} m/min is its highest`,
    });
  }
  if (can > HIGHEST_CAN_VELOCITY) {
    found.push({
      code: 'filter-can-velocity',
      message: `air rises between the bags at ${can.toFixed(2)} m/s: fed from below, fines do not settle; feed it from above or space the bags`,
    });
  }
  if (loss > filter.highestLoss) {
    found.push({
      code: 'filter-pressure',
      message: `the filter loses ${Math.round(loss)} Pa before cleaning, more than its ${Math.round(filter.highestLoss)} Pa`,
    });
  }
  return found;
}
