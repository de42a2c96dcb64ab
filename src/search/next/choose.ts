import { inverse, Matrix } from 'ml-matrix';
import type { Posterior } from '../../trials/fit/fit.ts';
import type { PlannedTrial } from './candidate-trial.ts';
import { type Answer, doubtOf } from './decision.ts';

/** Covariance of the coefficients once a trial with this information is in, (C⁻¹ + JᵀJ)⁻¹ (linear, `derived`). */
export function covarianceAfter(covariance: Matrix, information: Matrix): Matrix {
  // I + M C is well conditioned where C⁻¹ is not
  const n = covariance.rows;
  const after = covariance.mmul(inverse(Matrix.eye(n).add(information.mmul(covariance))));
  return Matrix.add(after, after.transpose()).mul(0.5);
}

/** One trial chosen, and how far it brings the answer. */
export interface Choice<T extends PlannedTrial> {
  readonly trial: T;
  /** Sum of the variances of the answer before and after. */
  readonly before: number;
  readonly after: number;
  readonly covariance: Matrix;
}

/** Trials within this share of the best drop count as equal; the cheaper is taken. */
const EQUAL = 0.9;

/**
 * The next trial, one at a time: the affordable one that takes most of the answer's doubt; among near equals the one that
 * costs least.
 *
 * @param cost of running a trial next, any one unit; undefined where it cannot be afforded
 * @returns undefined where none can be afforded
 */
export function chooseNext<T extends PlannedTrial>(
  answer: Answer,
  covariance: Posterior['covariance'],
  candidates: readonly T[],
  cost: (trial: T) => number | undefined,
): Choice<T> | undefined {
  const before = doubtOf(answer, covariance);
  const rated = candidates.flatMap((trial) => {
    const price = cost(trial);
    if (price === undefined) return [];
    const next = covarianceAfter(covariance, trial.information);
    return [{ trial, price, covariance: next, after: doubtOf(answer, next) }];
  });
  if (rated.length === 0) return undefined;
  const least = Math.min(...rated.map(({ after }) => after));
  const near = rated.filter(({ after }) => before - after >= EQUAL * (before - least));
  const best = near.reduce((a, b) => (b.price < a.price ? b : a));
  return { trial: best.trial, before, after: best.after, covariance: best.covariance };
}
