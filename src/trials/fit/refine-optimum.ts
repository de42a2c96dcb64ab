import { leastSquares, type Solution } from '../least-squares.ts';
import type { MeasurementErrors } from '../trial.ts';
import type { Prior } from './coefficients.ts';
import { type Comparison, modelAt, prepareComparison, slopesOf } from './compare.ts';
import { jointDensity } from './density.ts';
import { ERROR_LEVELS } from './error-levels.ts';
import { fitProblem } from './problem.ts';
import { logSum } from './proposal.ts';

/** Best coefficients with the model's own error at its likely level. */
export interface Settled {
  readonly solution: Solution;
  /** Trials with the model's own error in their weights. */
  readonly comparisons: readonly Comparison[];
  /** Trials with measuring errors alone. */
  readonly measured: readonly Comparison[];
}

const SLOPE_ROUNDS = 2;
const LEVEL_ROUNDS = 3;

/** Trials made ready again with the slopes of the model's curves, smoother than those between measured points. */
function readied(
  prior: Prior,
  trials: readonly Comparison[],
  errors: MeasurementErrors,
  parameters: readonly number[],
  discrepancy: number,
): Comparison[] {
  return trials.map((one) => {
    const point = modelAt(one.trial, prior.coefficients, parameters);
    const slopes = point.status === 'steady' ? slopesOf(point, one.curve) : undefined;
    return prepareComparison(one.trial, errors, discrepancy, slopes);
  });
}

/** Least squares with measuring errors alone, errors of size weighed by the slopes of the model's own curves. */
export function withSlopes(
  prior: Prior,
  trials: readonly Comparison[],
  errors: MeasurementErrors,
  start: Solution,
): { readonly solution: Solution; readonly comparisons: readonly Comparison[] } {
  let solution = start;
  let comparisons = trials;
  for (let round = 0; round < SLOPE_ROUNDS; round++) {
    comparisons = readied(prior, trials, errors, solution.parameters, 0);
    solution = leastSquares(fitProblem(prior, comparisons), solution.parameters) ?? solution;
  }
  return { solution, comparisons };
}

/**
 * Least squares and the level of the model's own error in turn: the level at its mean given the coefficients, the
 * coefficients at their best given the level.
 *
 * @param start solution with measuring errors alone
 */
export function settle(
  prior: Prior,
  trials: readonly Comparison[],
  errors: MeasurementErrors,
  start: Solution,
): Settled {
  return (
    settleFrom(prior, trials, errors, start.parameters) ?? {
      solution: start,
      comparisons: trials,
      measured: trials,
    }
  );
}

/** As `settle`, from coefficients alone; undefined where the mill has no steady state there. */
export function settleFrom(
  prior: Prior,
  trials: readonly Comparison[],
  errors: MeasurementErrors,
  start: readonly number[],
): Settled | undefined {
  let parameters = start;
  let found: Settled | undefined;
  for (let round = 0; round < LEVEL_ROUNDS; round++) {
    const measured = readied(prior, trials, errors, parameters, 0);
    const density = jointDensity(prior, measured);
    const point = density.at(parameters);
    if (!point) return found;
    const comparisons = readied(prior, trials, errors, parameters, likelyLevel(density.sizeLevels(point)));
    const solution = leastSquares(fitProblem(prior, comparisons), parameters);
    if (!solution) return found;
    found = { solution, comparisons, measured };
    parameters = solution.parameters;
  }
  return found;
}

/** Mean of the levels by their weights, in logarithms. */
function likelyLevel(logarithms: readonly number[]): number {
  const total = logSum(logarithms);
  const { values } = ERROR_LEVELS.size;
  const mean = values.reduce((sum, level, k) => sum + Math.log(level) * Math.exp(logarithms[k]! - total), 0);
  return Math.exp(mean);
}
