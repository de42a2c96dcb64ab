import { Matrix } from 'ml-matrix';
import { InputError } from '../../scenario/errors.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, coordinateOf, LOG } from '../fit/coefficient.ts';
import { priorOf } from '../fit/coefficients.ts';
import { MODEL_FLOOR, type Posterior } from '../fit/fit.ts';
import { drawOf, rowLengths } from './draw-row.ts';
import { usedPart } from './used-part.ts';

/**
 * What is known of a scenario's coefficients: the joint distribution of its calibration, or the prior where it has none.
 *
 * @throws InputError where the calibration file does not hold one
 */
export function posteriorOf(scenario: Scenario): Posterior {
  const joint = scenario.calibration?.joint;
  if (scenario.calibration === undefined) {
    const prior = priorOf(scenario);
    return { prior, mean: prior.mean, covariance: prior.covariance, discrepancy: MODEL_FLOOR };
  }
  const posterior = posteriorOfJoint(joint);
  if (typeof posterior === 'string')
    throw new InputError([{ place: 'calibration: joint', message: posterior }]);
  return usedPart(scenario, posterior);
}

/** The joint distribution of a calibration file; or what is wrong with it. */
export function posteriorOfJoint(joint: unknown): Posterior | string {
  const fault = faultOf(joint);
  if (fault) return fault;
  const { mean, covariance, priorCovariance, discrepancy } = joint as Joint;
  // a file of an earlier version has logarithms only
  const coefficients = (joint as Joint).coefficients.map((one) => ({
    ...one,
    scale: one.scale ?? LOG,
    lower: one.lower ?? Number.NEGATIVE_INFINITY,
    upper: one.upper ?? Number.POSITIVE_INFINITY,
  }));
  const draws = rowsOf((joint as Joint).draws);
  return {
    prior: {
      coefficients,
      mean: coefficients.map((one) => coordinateOf(one, one.prior)),
      covariance: new Matrix(priorCovariance),
    },
    mean,
    covariance: new Matrix(covariance),
    discrepancy,
    ...(draws ? { draws: draws.map((row) => drawOf(row, coefficients.length)) } : {}),
  };
}

/** Draws as rows of numbers: a text of the file holds one a line. */
function rowsOf(draws: Joint['draws']): readonly (readonly number[])[] | undefined {
  if (typeof draws !== 'string') return draws;
  const lines = draws.split('\n').filter((line) => line.trim() !== '');
  return lines.map((line) => line.trim().split(/\s+/).map(Number));
}

interface Joint {
  readonly coefficients: readonly Coefficient[];
  readonly mean: readonly number[];
  readonly covariance: number[][];
  readonly priorCovariance: number[][];
  readonly discrepancy: number;
  /** A draw a line, or rows of numbers; absent in a file written by hand: then the normal distribution stands for them. */
  readonly draws?: string | readonly (readonly number[])[];
}

function faultOf(joint: unknown): string | undefined {
  if (typeof joint !== 'object' || joint === null) return 'is missing: write the file with fit';
  const { coefficients, mean, covariance, priorCovariance, discrepancy, draws } = joint as Partial<Joint>;
  const n = Array.isArray(coefficients) ? coefficients.length : 0;
  const square = (m: unknown): boolean =>
    Array.isArray(m) &&
    m.length === n &&
    m.every((row) => Array.isArray(row) && row.length === n && row.every(Number.isFinite));
  if (n === 0 || !coefficients!.every(({ path, prior }) => typeof path === 'string' && prior > 0))
    return 'must list its coefficients';
  if (!Array.isArray(mean) || mean.length !== n || !mean.every(Number.isFinite))
    return `must have ${n} means`;
  if (!square(covariance) || !square(priorCovariance)) return `must have covariances of ${n} by ${n}`;
  const rows: unknown = rowsOf(draws) ?? [];
  const lengths = rowLengths(n);
  const whole =
    Array.isArray(rows) &&
    rows.every((row) => Array.isArray(row) && lengths.includes(row.length) && row.every(Number.isFinite));
  if (!whole || (draws !== undefined && (rows as unknown[]).length === 0))
    return `must have draws of ${lengths[0]} numbers each`;
  return Number.isFinite(discrepancy) ? undefined : 'must have a discrepancy';
}
