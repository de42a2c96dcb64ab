import { Matrix } from 'ml-matrix';
import type { Point } from '../../scenario/outcome/solved.ts';
import { correlation } from '../../trials/fit/covariance.ts';
import { TYPICAL_SHARED } from '../../trials/fit/error-levels.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { disturbed } from '../../trials/fit/predict.ts';
import { PLACES, smoothThrough } from '../../trials/fit/shared-error.ts';

/**
 * What is known before a plan: the coefficients, and behind them the error of the model that all trials share, b: its value at
 * every second of `PLACES`, and that of grinding power. Coefficients and b are known together far better than each alone, and a
 * trial repeated does not average b away.
 */
export interface Knowledge extends Posterior {
  /** Relative error of size that every setting has of its own, the root of (1 − ρ) s². */
  readonly own: number;
}

/** Places along ln x at which b is kept in a plan: a correlation length apart. */
const NODES = PLACES.filter((_, k) => k % 2 === 0);
/** Of a variance, so that b has an inverse where all draws agree. */
const TRACE = 1e-9;

/** A posterior with b behind its coefficients, its middle 0. */
export function withSharedError(posterior: Posterior): Knowledge {
  const { mean, draws, discrepancy } = posterior;
  const extended = [...mean, ...NODES.map(() => 0), 0];
  const share = draws ? draws.reduce((sum, one) => sum + one.share, 0) / draws.length : TYPICAL_SHARED;
  return {
    ...posterior,
    mean: extended,
    covariance: draws ? covarianceOfDraws(draws) : priorOfError(posterior, share * discrepancy ** 2),
    own: discrepancy * Math.sqrt(1 - share),
  };
}

/** Coefficients and b over the draws. */
function covarianceOfDraws(draws: NonNullable<Posterior['draws']>): Matrix {
  const rows = new Matrix(
    draws.map(({ coordinates, shared }) => [
      ...coordinates,
      ...shared.sizes.filter((_, k) => k % 2 === 0),
      shared.power,
    ]),
  );
  rows.center('column');
  const covariance = rows
    .transpose()
    .mmul(rows)
    .div(draws.length - 1);
  for (let i = 0; i < covariance.rows; i++)
    covariance.set(i, i, covariance.get(i, i) * (1 + TRACE) + TRACE * 1e-3);
  return covariance;
}

/** Before any trial b has nothing to do with the coefficients. */
function priorOfError({ covariance }: Posterior, variance: number): Matrix {
  const n = covariance.rows;
  const all = Matrix.zeros(n + NODES.length + 1, n + NODES.length + 1);
  all.setSubMatrix(covariance, 0, 0);
  NODES.forEach((one, i) => {
    NODES.forEach((other, j) => {
      all.set(n + i, n + j, variance * (correlation(one - other) + (i === j ? TRACE : 0)));
    });
  });
  all.set(n + NODES.length, n + NODES.length, variance);
  return all;
}

/** A solved point with b laid on, where coordinates reach beyond the coefficients. */
export function withErrorOf(point: Point, coordinates: readonly number[], coefficients: number): Point {
  const error = coordinates.slice(coefficients);
  if (point.status === 'choked' || error.every((value) => value === 0)) return point;
  return {
    ...point,
    ...disturbed(point, {
      coordinates,
      sizeError: smoothThrough(error.slice(0, NODES.length), NODES),
      powerError: error[NODES.length]!,
      scatter: 1,
    }),
  };
}
