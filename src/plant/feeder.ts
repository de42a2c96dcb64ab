import type { LawChoice, Warning } from '../model/parameters.ts';
import { FEEDERS } from './feeders.ts';

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

/** A feeder left out is chosen so that the rate is this share of its highest [-] (`assumed`). */
const FITTING_USE = 0.6;
/** Mass fed between two refills of a hopper left out, as time [s] (`assumed`). */
const REFILL_INTERVAL = 600;

/**
 * The feeder at a feed rate: range, use, and how the rate wanders.
 *
 * The screw turns at n_s F/F_max, so its pulsation is slowest, and passes the mill most easily, at a low rate.
 * Components of the wander are independent: σ² = σ_F² + σ_ρ² + a²/2 (eq. P4).
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
 * σ_s = s (1 − s) √(σ₁² + σ₂²)   (eq. P5; `derived`, small independent relative errors)
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
