import { Matrix } from 'ml-matrix';
import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import type { MeasurementErrors, Trial } from '../trial.ts';
import { type Coefficient, withCoefficients } from './coefficients.ts';
import { type ComparedCurve, cholesky, comparedCurve, modelErrors, whiten } from './covariance.ts';
import { modelIdlePower } from './idle.ts';

/** Power of a trial as it is compared, W. */
export interface ComparedPower {
  readonly measured: number;
  /** Standard error of the reading: meter with and without feed, feeder and speed. */
  readonly error: number;
  /** Grinding power, whose error the model's own is a share of. */
  readonly grinding: number;
  readonly net: boolean;
}

/** Relative standard errors of feed rate and of a speed as set (`assumed`); grinding power goes with its square. */
export const FEEDER_ERROR = 0.02;
export const SPEED_ERROR = 0.005;
/** Relative error of the grinding power from settings that were not quite those of the log. */
export const SETTING_ERROR = Math.hypot(FEEDER_ERROR, 2 * SPEED_ERROR);

/** A trial made ready for comparison with the model. */
export interface Comparison {
  readonly trial: Trial;
  readonly curve?: ComparedCurve;
  /** Cholesky factor of the curve's error covariance. */
  readonly factor?: Matrix;
  /** Shaft power, or grinding power where the idle power was measured. */
  readonly power?: ComparedPower;
  /** Shaft power without feed and its standard error [W]. */
  readonly idle?: { readonly measured: number; readonly error: number };
  /** Number of residuals. */
  readonly length: number;
}

/**
 * Prepares a trial.
 *
 * @param discrepancy relative size error of the model itself, added to the analyser's; 0 to begin with
 * @param slopes |dQ/d ln x| at the compared sizes, where a model says it better than the measured points
 */
export function prepareComparison(
  trial: Trial,
  errors: MeasurementErrors,
  discrepancy = 0,
  slopes?: readonly number[],
): Comparison {
  const curve = trial.sizes ? comparedCurve(trial.sizes, trial.repeats ?? 1, errors, slopes) : undefined;
  const factor = curve
    ? cholesky(Matrix.add(curve.covariance, modelErrors(curve).mul(discrepancy ** 2)))
    : undefined;
  const power = comparedPower(trial, discrepancy);
  const idle = trial.idlePower === undefined ? undefined : comparedIdle(trial.idlePower, trial.power, errors);
  return {
    trial,
    ...(curve ? { curve, factor: factor! } : {}),
    ...(power ? { power } : {}),
    ...(idle ? { idle } : {}),
    length: (curve?.at.length ?? 0) + (power ? 1 : 0) + (idle ? 1 : 0),
  };
}

function comparedPower(
  { power, idlePower: idle, scenario }: Trial,
  discrepancy: number,
): ComparedPower | undefined {
  if (!power) return undefined;
  const net = idle !== undefined;
  const without = idle ?? modelIdlePower(scenario);
  const grinding = Math.max(power.value - without, LEAST_GRINDING * power.value);
  const meter = power.error * Math.hypot(power.value, net ? IDLE_SHARE * idle : 0);
  const error = Math.hypot(meter, grinding * SETTING_ERROR, grinding * discrepancy);
  return { measured: net ? power.value - idle : power.value, error, grinding, net };
}

/** A mean of several idle readings errs by less than one under load (`assumed`). */
const IDLE_SHARE = 1 / 3;
const LEAST_GRINDING = 0.05;

function comparedIdle(measured: number, power: Trial['power'], errors: MeasurementErrors) {
  return { measured, error: measured * (power?.error ?? errors.power) };
}

/** The model at a trial's settings with given coefficients. */
export function modelAt(
  trial: Trial,
  coefficients: readonly Coefficient[],
  logarithms: readonly number[],
): Point {
  return solvePoint(toCase(withCoefficients(trial.scenario, coefficients, logarithms)), { choke: false });
}

/** Model values of the compared points of a curve. */
export function curveValues({ curve: model }: Solved, curve: ComparedCurve): number[] {
  if (curve.space === 'share') return curve.at.map((size) => undersizeAt(model, size));
  return curve.at.map((share) => {
    const size = sizeAt(model, share);
    // finer than the second edge: held there, so that the fit feels a wall and not a hole
    return Math.log(Number.isFinite(size) ? size : model.edges[1]!);
  });
}

/** |dQ/d ln x| of the model at the compared sizes; undefined where the trial has no curve of shares. */
export function slopesOf(solved: Solved, curve: ComparedCurve | undefined): readonly number[] | undefined {
  if (curve?.space !== 'share') return undefined;
  return curve.at.map((size) => {
    const high = undersizeAt(solved.curve, size * Math.exp(SLOPE_STEP));
    const low = undersizeAt(solved.curve, size * Math.exp(-SLOPE_STEP));
    return Math.max((high - low) / (2 * SLOPE_STEP), FLATTEST);
  });
}

/** Step in ln x, about one analyser's error of size, and the least slope. */
const SLOPE_STEP = 0.04;
const FLATTEST = 1e-4;

/** Residuals of one trial over their standard errors, decorrelated, into `out` from `offset`. */
export function fillResiduals(
  comparison: Comparison,
  solved: Solved,
  out: Float64Array,
  offset: number,
): void {
  const { curve, factor, power, idle } = comparison;
  let at = offset;
  if (curve && factor) {
    const values = curveValues(solved, curve);
    for (let i = 0; i < values.length; i++) values[i]! -= curve.measured[i]!;
    whiten(factor, values, out, at);
    at += values.length;
  }
  if (power) {
    const { grindingPower, rotorPower } = solved.state.conditions;
    out[at++] = ((power.net ? grindingPower : rotorPower) - power.measured) / power.error;
  }
  if (idle) out[at] = (solved.state.conditions.idlePower - idle.measured) / idle.error;
}
