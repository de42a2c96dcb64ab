import type { Parameter } from '../model/parameters.ts';
import { assumed, PLANT_SOURCES, practice } from './plant-evidence.ts';

/** What lies between the units: openings, ducts, outside air drawn in, SI. */
export interface Surroundings {
  readonly conveyingShare: number;
  readonly inletLoss: number;
  readonly loadLoss: number;
  readonly falseAir: number;
  readonly collectorHeatLoss: number;
  readonly filterHeatLoss: number;
  readonly ductLoss: number;
  readonly stackLoss: number;
  readonly fanEfficiency: number;
}

/** `plant.surroundings`. */
export const SURROUNDINGS: readonly Parameter[] = [
  {
    name: 'conveyingShare',
    symbol: 'φ_f',
    unit: '1',
    shownIn: '%',
    meaning: 'share of the inlet air that carries the feed in',
    exclusiveMinimum: 0,
    exclusiveMaximum: 1,
    preset: practice(0.2, PLANT_SOURCES.conveying),
  },
  {
    name: 'inletLoss',
    symbol: 'Δp_i',
    unit: 'Pa',
    shownIn: 'Pa',
    meaning: 'pressure loss of the main air inlet with its filter and damper, at the air flow set',
    minimum: 0,
    preset: assumed(300),
  },
  {
    name: 'loadLoss',
    symbol: 'ζ_λ',
    unit: '1',
    shownIn: '1',
    meaning: 'rise of the mill and wheel pressure loss per loading: Δp (1 + ζ λ)',
    minimum: 0,
    maximum: 5,
    preset: assumed(0.05),
  },
  {
    name: 'falseAir',
    symbol: 'φ_l',
    unit: '1',
    shownIn: '%',
    meaning: 'outside air drawn in at flanges between mill and cyclone, by mass of mill air',
    minimum: 0,
    maximum: 1,
    preset: assumed(0.02),
  },
  {
    name: 'collectorHeatLoss',
    symbol: 'U_c',
    unit: 'W/K',
    shownIn: 'W/K',
    meaning: 'heat lost by the cyclone per kelvin above the room',
    minimum: 0,
    preset: assumed(0),
  },
  {
    name: 'filterHeatLoss',
    symbol: 'U_f',
    unit: 'W/K',
    shownIn: 'W/K',
    meaning: 'heat lost by the filter per kelvin above the room',
    minimum: 0,
    preset: assumed(0),
  },
  {
    name: 'ductLoss',
    symbol: 'Δp_d',
    unit: 'Pa',
    shownIn: 'Pa',
    meaning: 'pressure loss of the clean air ducts before the fan, at the air flow set',
    minimum: 0,
    preset: assumed(200),
  },
  {
    name: 'stackLoss',
    symbol: 'Δp_s',
    unit: 'Pa',
    shownIn: 'Pa',
    meaning: 'pressure loss behind the fan, silencer and stack, at the air flow set',
    minimum: 0,
    preset: assumed(200),
  },
  {
    name: 'fanEfficiency',
    symbol: 'η_fan',
    unit: '1',
    shownIn: '%',
    meaning: 'efficiency taken for a fan that is not given',
    exclusiveMinimum: 0,
    maximum: 1,
    preset: practice(0.65, PLANT_SOURCES.fans),
  },
];
