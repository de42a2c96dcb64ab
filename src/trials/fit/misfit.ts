import { chiSquareTail } from '../chi-square.ts';
import { type Solution, sumOfSquares } from '../least-squares.ts';
import type { Comparison } from './compare.ts';

/** How well the trials as a whole are met. */
export interface Misfit {
  readonly chiSquare: number;
  /** Residuals less the coefficients the trials themselves settled. */
  readonly freedom: number;
}

/**
 * χ² of the trials and its degrees of freedom: the number of residuals less the effective number of coefficients,
 * tr(J_d Σ J_dᵀ), since a coefficient held by its prior takes no freedom from the data.
 */
export function misfitOf(solution: Solution, comparisons: readonly Comparison[]): Misfit {
  const rows = comparisons.reduce((sum, { length }) => sum + length, 0);
  const data = solution.residuals.subarray(0, rows);
  let taken = 0;
  const { jacobian, covariance } = solution;
  const n = jacobian.columns;
  for (let i = 0; i < rows; i++) {
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) taken += jacobian.get(i, a) * covariance.get(a, b) * jacobian.get(i, b);
    }
  }
  return { chiSquare: sumOfSquares(data), freedom: Math.max(1, rows - taken) };
}

/** One trial against the fitted model. */
export interface TrialMisfit {
  readonly name: string;
  readonly chiSquare: number;
  readonly count: number;
  readonly probability: number;
  readonly fits: boolean;
}

const RUN_LIMIT = 0.001;

/** χ² of each trial; a run beyond 0.1 % does not fit with the others. */
export function trialMisfits(solution: Solution, comparisons: readonly Comparison[]): TrialMisfit[] {
  let offset = 0;
  return comparisons.map(({ trial, length }) => {
    const chiSquare = sumOfSquares(solution.residuals.subarray(offset, offset + length));
    offset += length;
    const probability = length > 0 ? chiSquareTail(chiSquare, length) : 1;
    return { name: trial.name, chiSquare, count: length, probability, fits: probability >= RUN_LIMIT };
  });
}
