import type { Solved } from '../scenario/outcome/quantity.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import { quantile } from '../trials/fit/quantile.ts';
import { pointOfSample, samplesOf } from '../trials/posterior-samples.ts';

/** Samples of the coefficients at each point: enough for the quarters. */
const SAMPLES = 32;

/** Middle half of a number over the samples; an end may be infinite, NaN is none. */
export interface MiddleHalf {
  readonly low: number;
  readonly high: number;
}

/**
 * How the middle half of some numbers over the samples of a scenario's coefficients is found, one operating point at a
 * time.
 *
 * @param choked what a sample that chokes counts as: `above` all others, so that the high end is infinite where more than a
 * quarter choke and there is no half where more than three quarters do; or `left out`, with no half where half of them choke
 */
export function middleHalves(
  scenario: Scenario,
  numbers: readonly ((point: Solved) => number)[],
  choked: 'above' | 'left out',
): (at: Scenario) => MiddleHalf[] {
  const posterior = posteriorOf(scenario);
  const samples = samplesOf(posterior, SAMPLES);
  return (at) => {
    const points = samples
      .map((sample) => pointOfSample(at, posterior, sample))
      .filter((point) => point.status === 'steady');
    const above = choked === 'above' ? samples.length - points.length : 0;
    return numbers.map((number) => {
      const values = points.map(number).filter(Number.isFinite);
      if (values.length * 2 < samples.length && choked === 'left out') return NONE;
      return halfOf([
        ...values.sort((a, b) => a - b),
        ...Array<number>(above).fill(Number.POSITIVE_INFINITY),
      ]);
    });
  };
}

const NONE: MiddleHalf = { low: Number.NaN, high: Number.NaN };

/** Middle half of sorted values, the last of which may be infinite. */
function halfOf(sorted: readonly number[]): MiddleHalf {
  const low = quantile(sorted, 0.25);
  const high = quantile(sorted, 0.75);
  if (!Number.isFinite(low)) return NONE;
  // between two infinite values a quantile is not a number
  return { low, high: Number.isNaN(high) ? Number.POSITIVE_INFINITY : high };
}
