import { autoregressive, normalNumbers, uniformNumbers } from '../model/time/noise.ts';
import type { FeedWander } from './feeder.ts';

/** A change of the feed at a time: a new rate, or the feeder tripped. */
export interface FeedEvent {
  /** [s] */
  readonly at: number;
  /** New set rate of all feeders together [kg/s]; 0 is a trip. */
  readonly rate: number;
}

/** One feeder's part: its share of the set rate and how it wanders. */
export interface FeederInTime {
  readonly share: number;
  readonly wander: FeedWander;
}

/** Keeps the random numbers of several feeders apart. */
const SEED_STRIDE = 0x632be59b;

/**
 * Rates of feeders in ratio against time: set rate and its steps, with each feeder's own short noise, slow drift,
 * pulsation and refills.
 *
 * F_k(t) = s_k F_set(t) [1 + n(t) + d(t) + a sin(2πt/T_p) + refill], n and d first-order autoregressive and independent
 * from feeder to feeder, never below zero (eq. P4). Rates are held over a step and drawn in order of time.
 *
 * @param rate F_set at the start [kg/s]
 * @param events changes, in any order
 * @param feeders share and wander of each
 * @param step Δt the noise is drawn for [s]
 * @param seed start of the random numbers
 * @returns rate of a feeder [kg/s] at a time [s]
 */
export function feedersInTime(
  rate: number,
  events: readonly FeedEvent[],
  feeders: readonly FeederInTime[],
  step: number,
  seed: number,
): (time: number, feeder: number) => number {
  const ordered = [...events].sort((a, b) => a.at - b.at);
  const factors = feeders.map(({ wander }, k) => wandering(wander, step, (seed + k * SEED_STRIDE) >>> 0));
  return (time, feeder) => {
    const set = ordered.reduce((now, event) => (event.at <= time + 1e-9 ? event.rate : now), rate);
    return Math.max(0, feeders[feeder]!.share * set * factors[feeder]!(time));
  };
}

/** A feeder's rate over what it is set to, against time. */
function wandering(wander: FeedWander, step: number, seed: number): (time: number) => number {
  const normal = normalNumbers(uniformNumbers(seed));
  const noise = autoregressive(wander.noise, wander.noiseTime, normal);
  const drift = autoregressive(wander.drift, wander.driftTime, normal);
  const drawn: number[] = [];
  return (time) => {
    const index = Math.round(time / step);
    while (drawn.length <= index) drawn.push(1 + noise(step) + drift(step));
    const { interval, duration, error } = wander.refill;
    const refill = time >= interval && time % interval < duration ? error : 0;
    const beat = wander.pulsation * Math.sin((2 * Math.PI * time) / wander.pulsationPeriod);
    return drawn[index]! + beat + refill;
  };
}
