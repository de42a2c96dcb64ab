import type { Matrix } from 'ml-matrix';
import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../../scenario/outcome/solved.ts';
import { toCase } from '../../scenario/point.ts';
import type { MeasurementErrors, Trial } from '../trial.ts';
import { type Coefficient, withCoefficients } from './coefficients.ts';
import { type ComparedCurve, cholesky, comparedCurve, whiten, widened } from './covariance.ts';

/** A trial made ready for comparison with the model. */
export interface Comparison {
  readonly trial: Trial;
  readonly curve?: ComparedCurve;
  /** Cholesky factor of the curve's error covariance. */
  readonly factor?: Matrix;
  /** Shaft power compared [W] and its standard error [W]; grinding power where the idle power was measured. */
  readonly power?: { readonly measured: number; readonly error: number; readonly net: boolean };
  /** Number of residuals. */
  readonly length: number;
}

/**
 * Prepares a trial.
 *
 * @param discrepancy relative size error of the model itself, added to the analyser's; 0 to begin with
 */
export function prepareComparison(trial: Trial, errors: MeasurementErrors, discrepancy = 0): Comparison {
  const curve = trial.sizes ? comparedCurve(trial.sizes, trial.repeats ?? 1, errors) : undefined;
  const factor = curve
    ? cholesky(discrepancy > 0 ? widened(curve, discrepancy) : curve.covariance)
    : undefined;
  const power = comparedPower(trial, discrepancy);
  return {
    trial,
    ...(curve ? { curve, factor: factor! } : {}),
    ...(power ? { power } : {}),
    length: (curve?.at.length ?? 0) + (power ? 1 : 0),
  };
}

function comparedPower({ power, idlePower }: Trial, discrepancy: number): Comparison['power'] {
  if (!power) return undefined;
  const error = power.value * Math.hypot(power.error, discrepancy);
  const net = idlePower !== undefined;
  return { measured: net ? power.value - idlePower : power.value, error, net };
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

/** Residuals of one trial over their standard errors, decorrelated, into `out` from `offset`. */
export function fillResiduals(
  comparison: Comparison,
  solved: Solved,
  out: Float64Array,
  offset: number,
): void {
  const { curve, factor, power } = comparison;
  let at = offset;
  if (curve && factor) {
    const values = curveValues(solved, curve);
    for (let i = 0; i < values.length; i++) values[i]! -= curve.measured[i]!;
    whiten(factor, values, out, at);
    at += values.length;
  }
  if (power) {
    const { grindingPower, rotorPower } = solved.state.conditions;
    out[at] = ((power.net ? grindingPower : rotorPower) - power.measured) / power.error;
  }
}
