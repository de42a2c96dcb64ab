import type { LawHeader, Parameter } from '../model/parameters.ts';
import { assumed, PLANT_SOURCES, practice } from './plant-evidence.ts';

/** A way of feeding: what it measures decides what wanders. */
interface FeederLaw extends LawHeader {
  /** Share of the slow drift that the feeder's own control leaves [-]. */
  readonly driftLeft: number;
}

const NOISE: Omit<Parameter, 'preset'> = {
  name: 'noise',
  symbol: 'σ_F',
  unit: '1',
  shownIn: '%',
  meaning: 'standard deviation of the feed rate over a few seconds',
  minimum: 0,
  maximum: 0.5,
};

/** What every feeder has. */
const COMMON: readonly Parameter[] = [
  {
    name: 'maximumRate',
    symbol: 'F_max',
    unit: 'kg/s',
    shownIn: 'kg/h',
    meaning: 'feed rate at full screw speed; left out, a feeder that fits is taken',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'turndown',
    symbol: 'F_max/F_min',
    unit: '1',
    shownIn: '1',
    meaning: 'highest over lowest rate it doses well',
    minimum: 1,
    maximum: 200,
    preset: practice(10, PLANT_SOURCES.feeding),
  },
  {
    name: 'noiseTime',
    symbol: 'τ_F',
    unit: 's',
    shownIn: 's',
    meaning: 'correlation time of the short noise',
    exclusiveMinimum: 0,
    preset: assumed(3),
  },
  {
    name: 'drift',
    symbol: 'σ_ρ',
    unit: '1',
    shownIn: '%',
    meaning: 'standard deviation of the bulk density in the screw as the hopper empties',
    minimum: 0,
    maximum: 0.5,
    preset: practice(0.05, PLANT_SOURCES.feeding),
  },
  {
    name: 'driftTime',
    symbol: 'τ_ρ',
    unit: 's',
    shownIn: 'min',
    meaning: 'correlation time of the drift',
    exclusiveMinimum: 0,
    preset: assumed(300),
  },
  {
    name: 'pulsation',
    symbol: 'a_s',
    unit: '1',
    shownIn: '%',
    meaning: "amplitude of the screw's pulsation",
    minimum: 0,
    maximum: 1,
    preset: assumed(0.05),
  },
  {
    name: 'screwSpeed',
    symbol: 'n_s',
    unit: '1/s',
    shownIn: 'rpm',
    meaning: 'screw speed at the highest rate',
    exclusiveMinimum: 0,
    preset: assumed(2),
  },
  {
    name: 'hopper',
    symbol: 'm_H',
    unit: 'kg',
    shownIn: 'kg',
    meaning: 'mass fed between two refills; left out, that of ten minutes',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'refillTime',
    symbol: 't_R',
    unit: 's',
    shownIn: 's',
    meaning: 'time a refill takes',
    minimum: 0,
    preset: practice(15, PLANT_SOURCES.feeding),
  },
  {
    name: 'refillError',
    symbol: 'e_R',
    unit: '1',
    shownIn: '%',
    meaning: 'how far the rate is too high while the hopper is refilled',
    minimum: -0.5,
    maximum: 1,
    preset: assumed(0.05),
  },
];

/** Feeders by what they control. */
export const FEEDERS: Readonly<Record<string, FeederLaw>> = {
  volumetric: {
    name: 'volumetric',
    summary: 'screw speed is held; the rate follows the bulk density',
    label: 'practice',
    source: PLANT_SOURCES.feeding,
    driftLeft: 1,
    parameters: [{ ...NOISE, preset: practice(0.03, PLANT_SOURCES.feeding) }, ...COMMON],
  },
  gravimetric: {
    name: 'gravimetric',
    summary: 'loss in weight is held; blind, so volumetric, while it is refilled',
    label: 'practice',
    source: PLANT_SOURCES.feeding,
    driftLeft: 0,
    parameters: [{ ...NOISE, preset: practice(0.01, PLANT_SOURCES.feeding) }, ...COMMON],
  },
};
