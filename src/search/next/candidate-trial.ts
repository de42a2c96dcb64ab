import { Matrix } from 'ml-matrix';
import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import type { MeasuredSample, Method } from '../../scenario/measurement/measured-sample.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { asksFeedAtChoke } from '../../scenario/outcome/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { withCoefficients } from '../../trials/fit/coefficients.ts';
import { type Comparison, fillResiduals, prepareComparison, slopesOf } from '../../trials/fit/compare.ts';
import { TYPICAL_SCATTER } from '../../trials/fit/error-levels.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { MEASUREMENT_ERRORS, type MeasurementErrors, type Trial } from '../../trials/trial.ts';
import { type Knowledge, withErrorOf } from './knowledge.ts';

/** A trial not yet run: what the model expects of it and what it would tell. */
export interface PlannedTrial {
  readonly scenario: Scenario;
  /** At the mean of what is known. */
  readonly expected: Solved;
  /** JᵀJ over the measuring errors and the model's own: adds to the inverse covariance of the coefficients. */
  readonly information: Matrix;
}

/** Step of the differences, in standard errors of each coefficient: the slope over what is not known. */
const STEP = 0.5;
/** Sieves of a stack as it would be run [m] (ISO 3310-1 openings). */
const STACK = [20, 32, 45, 63, 75, 106, 150, 250].map((opening) => opening * 1e-6);
const LASER_SHARES = Array.from({ length: 39 }, (_, i) => 0.025 * (i + 1));

/** Errors of a trial to come: an analyser as it usually repeats, not at its limits, which is what the fit will find. */
export const EXPECTED_ERRORS: MeasurementErrors = {
  ...MEASUREMENT_ERRORS,
  laser: {
    median: TYPICAL_SCATTER * MEASUREMENT_ERRORS.laser.median,
    tails: TYPICAL_SCATTER * MEASUREMENT_ERRORS.laser.tails,
  },
};

/** The model at a scenario's settings with given coefficients along their scales, and behind them the error trials share. */
export function modelWith(scenario: Scenario, posterior: Posterior, coordinates: readonly number[]): Point {
  const { coefficients } = posterior.prior;
  const n = coefficients.length;
  return withErrorOf(solvedWith(scenario, posterior, coordinates), coordinates, n);
}

/** Points at the middle of what is known: asked for again with every step of the shared error. */
const middles = new WeakMap<Posterior, WeakMap<Scenario, Point>>();

function solvedWith(scenario: Scenario, posterior: Posterior, coordinates: readonly number[]): Point {
  const { prior, mean } = posterior;
  const solve = (): Point =>
    solvePoint(toCase(withCoefficients(scenario, prior.coefficients, coordinates)), {
      choke: asksFeedAtChoke(scenario),
    });
  if (prior.coefficients.some((_, i) => coordinates[i] !== mean[i])) return solve();
  const known = middles.get(posterior) ?? new WeakMap<Scenario, Point>();
  middles.set(posterior, known);
  const point = known.get(scenario) ?? solve();
  known.set(scenario, point);
  return point;
}

/**
 * What a trial at these settings would tell of the coefficients: the measured curve and power to be expected, with their
 * errors, differentiated by every coefficient over half of its present standard error.
 *
 * @param method how the product would be measured
 * @returns undefined where the mill would not run, at the mean or half a standard error from it
 */
export function plannedTrial(
  scenario: Scenario,
  posterior: Posterior,
  method: Method,
): PlannedTrial | undefined {
  const { mean, covariance } = posterior;
  // what trials share stands behind the coefficients; the rest of the model's error is each trial's own
  const discrepancy = 'own' in posterior ? (posterior as Knowledge).own : posterior.discrepancy;
  const expected = modelWith(scenario, posterior, mean);
  if (expected.status === 'choked') return undefined;
  const sizes = expectedSample(expected, method);
  if (sizes.points.length < 2) return undefined;
  const power = { value: expected.state.conditions.rotorPower, error: MEASUREMENT_ERRORS.power };
  const { idlePower } = expected.state.conditions;
  const trial = { name: 'planned', scenario, sizes, power, idlePower };
  const comparison = weighedAsFitted(trial, expected, discrepancy);
  const jacobian = Matrix.zeros(comparison.length, mean.length);
  const acting = mean.map((_, k) => {
    const wheel = posterior.prior.coefficients[k]?.wheel;
    return wheel === undefined || wheel === scenario.settings.wheel;
  });
  for (let k = 0; k < mean.length; k++) {
    if (!acting[k]) continue;
    const step = STEP * Math.sqrt(covariance.get(k, k));
    const ends = [1, -1].map((side) => {
      const point = modelWith(
        scenario,
        posterior,
        mean.map((value, i) => (i === k ? value + side * step : value)),
      );
      if (point.status === 'choked') return undefined;
      const out = new Float64Array(comparison.length);
      fillResiduals(comparison, point, out, 0);
      return out;
    });
    const [above, below] = ends;
    if (!above || !below) return undefined;
    for (let i = 0; i < above.length; i++) jacobian.set(i, k, (above[i]! - below[i]!) / (2 * step));
  }
  return { scenario, expected, information: jacobian.transpose().mmul(jacobian) };
}

/**
 * The trial with the slopes the fit would weigh it by, those of the model's own curve. A shift common to all points is only
 * known as one while the slopes are the model's: with others, a few per cent off, it would seem to average out.
 */
function weighedAsFitted(trial: Trial, expected: Solved, discrepancy: number): Comparison {
  const { curve } = prepareComparison(trial, EXPECTED_ERRORS, discrepancy);
  return prepareComparison(trial, EXPECTED_ERRORS, discrepancy, slopesOf(expected, curve));
}

function expectedSample({ curve }: Solved, method: Method): MeasuredSample {
  const all =
    method === 'laser'
      ? LASER_SHARES.map((share) => ({ size: sizeAt(curve, share), undersize: share }))
      : STACK.map((size) => ({ size, undersize: undersizeAt(curve, size) }));
  const points = all.filter(
    ({ size, undersize }) => Number.isFinite(size) && undersize > 0.002 && undersize < 0.9995,
  );
  return {
    name: 'planned',
    kind: 'curve',
    method,
    basis: 'volume',
    understood: '',
    remarks: [],
    stated: [],
    points,
  };
}
