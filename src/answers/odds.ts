import { expressionValue } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { posteriorOf } from '../trials/calibration/take-up.ts';
import { quantile } from '../trials/fit/quantile.ts';
import { pointOfEachSample, samplesOf } from '../trials/posterior-samples.ts';
import { standingAt } from './standing.ts';

/** What samples of the coefficients, assumed or fitted, make of one operating point. */
export interface Odds {
  readonly samples: number;
  /** Samples that meet the whole spec, one flag each, in the order of the samples. */
  readonly meets: readonly boolean[];
  /** Samples in which the mill chokes. */
  readonly choked: number;
  /** Of each requirement the middle 80 % of its value, in the unit shown, and the samples that meet it. */
  readonly lines: readonly { readonly low: number; readonly high: number; readonly met: number }[];
}

/** Samples behind every probability of an answer. */
export const SAMPLES = 200;

/**
 * Solves an operating point once for each sample of the coefficients' joint distribution. The samples are the same for every
 * point, so that two points are compared sample by sample.
 */
export function oddsOf(scenario: Scenario, samples = SAMPLES): Odds {
  const { spec } = scenario;
  const values = spec.map((): number[] => []);
  const met = spec.map(() => 0);
  const posterior = posteriorOf(scenario);
  const pointIn = pointOfEachSample(scenario, posterior);
  let choked = 0;
  const meets = samplesOf(posterior, samples).map((sample) => {
    const point = pointIn(sample);
    if (point.status === 'choked') {
      choked++;
      return false;
    }
    const standing = standingAt(scenario, point);
    spec.forEach((requirement, k) => {
      values[k]!.push(toShown(expressionValue(requirement.left, point), requirement.shownIn));
      if (standing.met[k]) met[k]!++;
    });
    return standing.meets;
  });
  const lines = values.map((own, k) => {
    const sorted = own.filter(Number.isFinite).sort((a, b) => a - b);
    return { low: quantile(sorted, 0.1), high: quantile(sorted, 0.9), met: met[k]! };
  });
  return { samples, meets, choked, lines };
}

/** Share of the samples that meet the whole spec. */
export function probabilityOf({ meets, samples }: Pick<Odds, 'meets' | 'samples'>): number {
  return meets.filter(Boolean).length / samples;
}

/** Share of the samples in which the mill chokes. */
export function chokingOf({ choked, samples }: Pick<Odds, 'choked' | 'samples'>): number {
  return choked / samples;
}
