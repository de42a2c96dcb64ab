import { autoregressive, normalNumbers, uniformNumbers } from '../model/time/noise.ts';
import type { FeedWander } from './feeder.ts';

/** A change of the feed at a time: a new rate, or the feeder tripped. */
export interface FeedEvent {
  /** [s] */
  readonly at: number;
  /** New set rate [kg/s]; 0 is a trip. */
  readonly rate: number;
}

/**
 * Feed rate against time: set rate and its steps, with the feeder's short noise, slow drift, pulsation and refills.
 *
 * F(t) = F_set(t) [1 + n(t) + d(t) + a sin(2πt/T_p) + refill], n and d first-order autoregressive, never below zero. Rates
 * are held over a step and drawn in order of time.
 *
 * @param rate F_set at the start [kg/s]
 * @param events changes, in any order
 * @param wander from `feeder`
 * @param step Δt the noise is drawn for [s]
 * @param seed start of the random numbers
 */
export function feedInTime(
  rate: number,
  events: readonly FeedEvent[],
  wander: FeedWander,
  step: number,
  seed: number,
): (time: number) => number {
  const normal = normalNumbers(uniformNumbers(seed));
  const noise = autoregressive(wander.noise, wander.noiseTime, normal);
  const drift = autoregressive(wander.drift, wander.driftTime, normal);
  const ordered = [...events].sort((a, b) => a.at - b.at);
  const factors: number[] = [];
  const factorAt = (index: number): number => {
    while (factors.length <= index) factors.push(1 + noise(step) + drift(step));
    return factors[index]!;
  };
  return (time) => {
    const set = ordered.reduce((now, event) => (event.at <= time + 1e-9 ? event.rate : now), rate);
    const { interval, duration, error } = wander.refill;
    const sinceRefill = time % interval;
    const refill = time >= interval && sinceRefill < duration ? error : 0;
    const beat = wander.pulsation * Math.sin((2 * Math.PI * time) / wander.pulsationPeriod);
    return Math.max(0, set * (factorAt(Math.round(time / step)) + beat + refill));
  };
}
