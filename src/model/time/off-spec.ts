import type { TimeSeries } from './run-in-time.ts';

/** Masses between two moments of a run [kg]. */
export interface Masses {
  readonly from: number;
  readonly fed: number;
  readonly product: number;
  /** Of the product, what left the wheel out of specification. */
  readonly outOfSpec: number;
}

/**
 * What is fed, leaves, and leaves out of specification from one moment to another: rates between two rows follow
 * straight lines, specification that of the later row.
 *
 * @param series a run in time
 * @param from start [s], included
 * @param until end [s]
 */
export function massesBetween(
  { time, feedRate, productRate, inSpec }: TimeSeries,
  from: number,
  until: number,
): Masses {
  let [fed, product, outOfSpec] = [0, 0, 0];
  for (let i = 1; i < time.length; i++) {
    if (time[i]! <= from || time[i]! > until) continue;
    const step = time[i]! - time[i - 1]!;
    // the feed is held over a step, and its jumps stand at its start
    fed += feedRate[i - 1]! * step;
    const mass = ((productRate[i - 1]! + productRate[i]!) / 2) * step;
    product += mass;
    if (!inSpec[i]) outOfSpec += mass;
  }
  return { from, fed, product, outOfSpec };
}
