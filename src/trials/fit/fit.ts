import type { Matrix } from 'ml-matrix';
import type { Scenario } from '../../scenario/scenario.ts';
import { chiSquareTail } from '../chi-square.ts';
import { leastSquares, type Solution, sumOfSquares } from '../least-squares.ts';
import { normal, type Random, seeded } from '../random.ts';
import { MEASUREMENT_ERRORS, type MeasurementErrors, type Trial } from '../trial.ts';
import { type Prior, priorOf } from './coefficients.ts';
import { type Comparison, prepareComparison } from './compare.ts';
import { cholesky } from './covariance.ts';
import { misfitOf } from './misfit.ts';
import { fitProblem } from './problem.ts';

/** Coefficients with what the trials left of their uncertainty. Logarithms throughout; SI. */
export interface Posterior {
  readonly prior: Prior;
  readonly mean: readonly number[];
  readonly covariance: Matrix;
  /** Relative size error of the model itself; widens every band. */
  readonly discrepancy: number;
}

export interface Fit extends Posterior {
  readonly comparisons: readonly Comparison[];
  readonly solution: Solution;
  /** χ² of the trials' residuals with measuring errors alone, and its degrees of freedom. */
  readonly chiSquare: number;
  readonly freedom: number;
  /** Chance of a χ² this large if the model were right; small means lack of fit. */
  readonly probability: number;
  /** Whether the bands were widened for lack of fit. */
  readonly lackOfFit: boolean;
  /** Starts tried, and how many came to the best answer within one unit of cost. */
  readonly starts: number;
  readonly agreeing: number;
}

export interface FitOptions {
  readonly errors?: MeasurementErrors;
  readonly starts?: number;
  readonly seed?: number;
}

/** Relative size error granted to any model of this kind before lack of fit shows (`assumed`). */
export const MODEL_FLOOR = 0.02;
/** Chance of χ² below which the model is said not to fit. */
const LACK_LIMIT = 0.01;
const STARTS = 4;
/** Starts are drawn this much narrower than the prior: a start where the mill chokes teaches nothing. */
const START_WIDTH = 0.5;
const REFITS = 3;

/**
 * Calibrates a scenario on trials: weighted least squares on cumulative curves and power with the priors of physics section
 * 12, from several starts. Where the model does not fit within the measuring errors, a discrepancy of the model itself is
 * estimated (so that χ² per degree of freedom is 1), the fit repeated with it, and every band widened by it.
 *
 * @param scenario supplies the priors; each trial carries its own settings
 * @param trials at least one with sizes or power
 * @returns undefined where the model has no steady state at the settings of the trials from any start
 */
export function fitTrials(
  scenario: Scenario,
  trials: readonly Trial[],
  options: FitOptions = {},
): Fit | undefined {
  const errors = options.errors ?? MEASUREMENT_ERRORS;
  const prior = priorOf(scenario);
  const used = trials.filter((trial) => trial.sizes || trial.power);
  const random = seeded(options.seed ?? 1);
  const plain = used.map((trial) => prepareComparison(trial, errors));
  const first = bestOf(prior, plain, startPoints(prior, options.starts ?? STARTS, random));
  if (!first) return undefined;
  const { chiSquare, freedom } = misfitOf(first.best, plain);
  const probability = chiSquareTail(chiSquare, freedom);
  const lackOfFit = probability < LACK_LIMIT;
  let discrepancy = MODEL_FLOOR;
  let best = first.best;
  let comparisons = plain;
  for (let round = 0; round < (lackOfFit ? REFITS : 1); round++) {
    if (lackOfFit) discrepancy = discrepancyFor(used, errors, best, prior);
    comparisons = used.map((trial) => prepareComparison(trial, errors, discrepancy));
    best = leastSquares(fitProblem(prior, comparisons), best.parameters) ?? best;
  }
  return {
    prior,
    mean: best.parameters,
    covariance: best.covariance,
    discrepancy,
    comparisons,
    solution: best,
    chiSquare,
    freedom,
    probability,
    lackOfFit,
    starts: first.starts,
    agreeing: first.agreeing,
  };
}

function startPoints(prior: Prior, count: number, random: Random): number[][] {
  const lower = cholesky(prior.covariance);
  return Array.from({ length: count }, (_, i) =>
    i === 0 ? [...prior.mean] : drawFrom(prior.mean, lower, random, START_WIDTH),
  );
}

/** One draw from N(mean, width² L Lᵀ). */
export function drawFrom(mean: readonly number[], lower: Matrix, random: Random, width = 1): number[] {
  const z = mean.map(() => normal(random));
  return mean.map((value, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += lower.get(i, j) * z[j]!;
    return value + width * sum;
  });
}

function bestOf(
  prior: Prior,
  comparisons: readonly Comparison[],
  starts: readonly (readonly number[])[],
): { best: Solution; starts: number; agreeing: number } | undefined {
  const problem = fitProblem(prior, comparisons);
  const solutions = starts.flatMap((start) => leastSquares(problem, start) ?? []);
  if (solutions.length === 0) return undefined;
  const best = solutions.reduce((a, b) => (b.cost < a.cost ? b : a));
  return {
    best,
    starts: starts.length,
    agreeing: solutions.filter(({ cost }) => cost - best.cost < 1).length,
  };
}

/** Discrepancy that brings χ² to its degrees of freedom, the residuals held as they are. */
function discrepancyFor(
  trials: readonly Trial[],
  errors: MeasurementErrors,
  solution: Solution,
  prior: Prior,
): number {
  const reduced = (discrepancy: number): number => {
    const comparisons = trials.map((trial) => prepareComparison(trial, errors, discrepancy));
    const r = fitProblem(prior, comparisons).residuals(solution.parameters);
    if (!r) return 0;
    const { freedom } = misfitOf(solution, comparisons);
    return sumOfSquares(r.subarray(0, r.length - prior.mean.length)) / freedom - 1;
  };
  let low = MODEL_FLOOR;
  let high = 0.6;
  if (reduced(low) <= 0) return low;
  for (let i = 0; i < 12; i++) {
    const middle = Math.sqrt(low * high);
    if (reduced(middle) > 0) low = middle;
    else high = middle;
  }
  return high;
}
