import type { Matrix } from 'ml-matrix';
import type { Scenario } from '../../scenario/scenario.ts';
import { chiSquareTail } from '../chi-square.ts';
import type { Solution } from '../least-squares.ts';
import { type Random, seeded } from '../random.ts';
import { MEASUREMENT_ERRORS, type MeasurementErrors, type Trial } from '../trial.ts';
import { type Prior, priorOf } from './coefficients.ts';
import { type Comparison, prepareComparison } from './compare.ts';
import { jointDensity } from './density.ts';
import { MODEL_FLOOR } from './error-levels.ts';
import { misfitOf } from './misfit.ts';
import { optimaOf } from './multistart.ts';
import { type Suspicion, suspicionOf } from './outlier-runs.ts';
import { fitProblem } from './problem.ts';
import { quantile } from './quantile.ts';
import { type Settled, settle, settleFrom, withSlopes } from './refine-optimum.ts';
import {
  covarianceOf,
  EFFORT,
  type Effort,
  type PosteriorDraw,
  type PosteriorSample,
  samplePosterior,
} from './sample.ts';

export { MODEL_FLOOR };

/** Coefficients with what the trials left of their uncertainty, along their scales. */
export interface Posterior {
  readonly prior: Prior;
  /** The best coefficients: least squares with the prior. */
  readonly mean: readonly number[];
  /** Covariance over the draws; of the normal distribution where there are none. */
  readonly covariance: Matrix;
  /** Relative size error of the model itself; widens every band. The median over the draws where there are any. */
  readonly discrepancy: number;
  /** Equally likely truths; absent where nothing but a normal distribution is known. */
  readonly draws?: readonly PosteriorDraw[];
}

export interface Fit extends Posterior {
  readonly draws: readonly PosteriorDraw[];
  /** Effective number of points behind the draws. */
  readonly effective: number;
  readonly comparisons: readonly Comparison[];
  readonly solution: Solution;
  /** χ² of the trials' residuals with measuring errors alone, and its degrees of freedom. */
  readonly chiSquare: number;
  readonly freedom: number;
  /** Chance of a χ² this large if the model were right; small means lack of fit. */
  readonly probability: number;
  /** Whether the bands were widened for lack of fit. */
  readonly lackOfFit: boolean;
  /** Runs of a wrong entry that mends the fit decisively, and which entry it is. */
  readonly suspects: readonly string[];
  readonly suspicion?: Suspicion;
  /** Starts tried, and how many came to the best answer within one unit of cost. */
  readonly starts: number;
  readonly agreeing: number;
}

export interface FitOptions {
  readonly errors?: MeasurementErrors;
  readonly starts?: number;
  readonly seed?: number;
  readonly effort?: Effort;
  /** Told the share done, 0…1. */
  readonly progress?: (share: number) => void;
}

/** Chance of χ² below which the model is said not to fit. */
const LACK_LIMIT = 0.01;
const STARTS = 8;
/** A sampled point whose ln density beats the best optimum by this leads to a better one. */
const WORTH_MOVING = 2;
/** Optima that sampling begins about, at most. */
const MODES = 3;

/**
 * Calibrates a scenario on trials: weighted least squares on cumulative curves and power with the priors of
 * eq. K1, from several starts. The best coefficients are those of least squares; their uncertainty is sampled from the posterior
 * itself, with the model's own error as one more unknown (`jointDensity`). Where the model does not fit within the measuring
 * errors that error grows and with it every band.
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
  const rough = used.map((trial) => prepareComparison(trial, errors));
  const optima = optimaOf(fitProblem(prior, rough), prior, options.starts ?? STARTS, random);
  if (!optima) return undefined;
  const { solution: plain, comparisons: measured } = withSlopes(prior, rough, errors, optima.solutions[0]!);
  const { chiSquare, freedom } = misfitOf(plain, measured);
  const probability = chiSquareTail(chiSquare, freedom);
  const lackOfFit = probability < LACK_LIMIT;
  const suspicion = lackOfFit ? suspicionOf(prior, used, errors, plain, LACK_LIMIT) : undefined;
  const effort = options.effort ?? EFFORT;
  const others = optima.solutions.slice(1, MODES).map(({ parameters }) => parameters);
  const modes = ranked(prior, measured, [
    settle(prior, measured, errors, plain),
    ...others.flatMap((at) => settleFrom(prior, measured, errors, at) ?? []),
  ]);
  const { settled, draws, effective } = sampledAbout(
    modes,
    sampled(prior, modes, random, effort, options.progress),
    (at) => settleFrom(prior, modes[0]!.measured, errors, at),
  );
  return {
    prior,
    mean: settled.solution.parameters,
    covariance: covarianceOf(draws),
    discrepancy: quantile(
      draws.map(({ discrepancy }) => discrepancy).sort((a, b) => a - b),
      0.5,
    ),
    draws,
    effective,
    comparisons: settled.comparisons,
    solution: settled.solution,
    chiSquare,
    freedom,
    probability,
    lackOfFit,
    suspects: suspicion?.runs ?? [],
    ...(suspicion ? { suspicion } : {}),
    starts: optima.starts,
    agreeing: optima.agreeing,
  };
}

/** Samples about the optima; what sampling came upon that is better than every start becomes the best optimum. */
function sampledAbout(
  modes: readonly Settled[],
  sample: PosteriorSample,
  from: (at: readonly number[]) => Settled | undefined,
): PosteriorSample & { readonly settled: Settled } {
  const better = sample.likeliest.gain > WORTH_MOVING ? from(sample.likeliest.at) : undefined;
  return { ...sample, settled: better ?? modes[0]! };
}

/** Optima by the density of the posterior there, the likeliest first. */
function ranked(prior: Prior, measured: readonly Comparison[], optima: readonly Settled[]): Settled[] {
  const { marginal } = jointDensity(prior, measured);
  const at = new Map(optima.map((one) => [one, marginal(one.solution.parameters)]));
  return [...optima].sort((a, b) => at.get(b)! - at.get(a)!);
}

function sampled(
  prior: Prior,
  modes: readonly Settled[],
  random: Random,
  effort: Effort,
  progress: ((share: number) => void) | undefined,
): PosteriorSample {
  const solutions = modes.map(({ solution }) => solution);
  return samplePosterior(prior, modes[0]!.measured, solutions, random, effort, progress);
}
