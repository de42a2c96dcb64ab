import type { LawChoice, LawHeader, Parameter, Warning } from '../model/parameters.ts';
import { assumed, PLANT_SOURCES, practice } from './evidence.ts';

/** How the rate of a feeder wanders, as fractions of the rate; what `time` draws its noise from. */
export interface FeedWander {
  /** Standard deviation of the short noise [-] and its correlation time [s]. */
  readonly noise: number;
  readonly noiseTime: number;
  /** Standard deviation of the slow drift (bulk density, level in the hopper) [-] and its correlation time [s]. */
  readonly drift: number;
  readonly driftTime: number;
  /** Amplitude of the screw's pulsation [-] and its period [s]. */
  readonly pulsation: number;
  readonly pulsationPeriod: number;
  /** Every `interval` [s] the hopper is refilled for `duration` [s], the rate being `error` [-] too high meanwhile. */
  readonly refill: { readonly interval: number; readonly duration: number; readonly error: number };
}

/** A feeder at the feed rate asked. */
export interface FeederState {
  readonly law: string;
  /** Rate range [kg/s]. */
  readonly minimumRate: number;
  readonly maximumRate: number;
  /** Feed rate over the highest rate [-]. */
  readonly use: number;
  /** Whether the highest rate was given, or chosen here to fit. */
  readonly given: boolean;
  readonly wander: FeedWander;
  /** Standard deviation of everything together, refill left out [-]. */
  readonly spread: number;
  readonly warnings: readonly Warning[];
}

/** A way of feeding: what it measures decides what wanders. */
export interface FeederLaw extends LawHeader {
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

/** A feeder left out is chosen so that the rate is this share of its highest [-] (`assumed`). */
const FITTING_USE = 0.6;
/** Mass fed between two refills of a hopper left out, as time [s] (`assumed`). */
const REFILL_INTERVAL = 600;

/**
 * The feeder at a feed rate: range, use, and how the rate wanders.
 *
 * The screw turns at n_s F/F_max, so its pulsation is slowest, and passes the mill most easily, at a low rate.
 * Components of the wander are independent: σ² = σ_F² + σ_ρ² + a²/2.
 *
 * @param choice law and parameters, SI
 * @param feedRate F [kg/s]
 * @example feeder({ law: 'gravimetric', … }, 0.1).spread
 */
export function feeder(choice: LawChoice, feedRate: number): FeederState {
  const law = FEEDERS[choice.law]!;
  const n = (name: string) => choice[name] as number;
  const given = choice.maximumRate !== undefined;
  const maximumRate = given ? n('maximumRate') : feedRate / FITTING_USE;
  const minimumRate = maximumRate / n('turndown');
  const use = feedRate / maximumRate;
  const mass = (choice.hopper as number | undefined) ?? feedRate * REFILL_INTERVAL;
  const wander: FeedWander = {
    noise: n('noise'),
    noiseTime: n('noiseTime'),
    drift: n('drift') * law.driftLeft,
    driftTime: n('driftTime'),
    pulsation: n('pulsation'),
    pulsationPeriod: 1 / (n('screwSpeed') * use),
    refill: { interval: mass / feedRate, duration: n('refillTime'), error: n('refillError') },
  };
  return {
    law: law.name,
    minimumRate,
    maximumRate,
    use,
    given,
    wander,
    spread: Math.hypot(wander.noise, wander.drift, wander.pulsation / Math.SQRT2),
    warnings: given ? rangeWarnings(feedRate, minimumRate, maximumRate) : [],
  };
}

function rangeWarnings(rate: number, lowest: number, highest: number): Warning[] {
  if (rate > highest) {
    return [
      {
        code: 'feeder-range',
        message: `the feed rate is ${percent(rate / highest)} of the feeder's highest rate`,
      },
    ];
  }
  if (rate < lowest) {
    return [
      {
        code: 'feeder-range',
        message: `the feed rate is ${percent(rate / lowest)} of the lowest rate the feeder doses well: expect surges`,
      },
    ];
  }
  return [];
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

/**
 * Standard deviation of the share of one of two streams fed in ratio, s = F₁/(F₁ + F₂):
 *
 * σ_s = s (1 − s) √(σ₁² + σ₂²)   (`derived`, small independent relative errors)
 *
 * @param share s of the first stream [-]
 * @param first σ₁, relative standard deviation of its rate [-]
 * @param second σ₂
 * @returns σ_s [-]
 * @example shareSpread(0.8, 0.02, 0.03) // 0.00576888
 */
export function shareSpread(share: number, first: number, second: number): number {
  return share * (1 - share) * Math.hypot(first, second);
}
