import { boundsOf } from './coefficient.ts';
import type { Prior } from './coefficients.ts';
import type { Comparison } from './compare.ts';
import { cholesky, whiten } from './covariance.ts';
import { ERROR_LEVELS, type LevelIndex, levelsWeight, MIDDLE_LEVELS } from './error-levels.ts';
import { type JointErrors, jointErrors, type Residuals } from './joint-errors.ts';
import { trialModel } from './model.ts';
import { logSum } from './proposal.ts';

/** A point of the coefficients with what the model gives there: all that the levels of the errors do not change. */
export interface Evaluated {
  readonly coordinates: readonly number[];
  readonly residuals: Residuals;
  /** −½ (θ − θ_0)ᵀ C_0⁻¹ (θ − θ_0). */
  readonly prior: number;
}

/** The posterior density of coefficients and of the levels of the errors. */
export interface JointDensity {
  readonly errors: JointErrors;
  /** −½ (θ − θ_0)ᵀ C_0⁻¹ (θ − θ_0); undefined out of bounds. */
  readonly prior: (coordinates: readonly number[]) => number | undefined;
  /** The model at a point; undefined out of bounds or where the mill has no steady state at some trial. */
  readonly at: (coordinates: readonly number[]) => Evaluated | undefined;
  /** ln π(θ, levels) up to a constant. */
  readonly joint: (point: Evaluated, index: LevelIndex) => number;
  /** ln π(θ) with share and scatter as they typically are and the model's errors summed over; −∞ where impossible. */
  readonly marginal: (coordinates: readonly number[]) => number;
  /** ln of the weight of each level of the model's error of size, of power, given a point. */
  readonly sizeLevels: (point: Evaluated) => number[];
  readonly powerLevels: (point: Evaluated) => number[];
}

/**
 * ln π(θ, levels) = ln p(levels) + ln N(r(θ); 0, Σ(levels)) − ½ (θ−θ_0)ᵀ C_0⁻¹ (θ−θ_0) (`derived`), r the residuals of all
 * trials together and Σ as `jointErrors` has it. Few residuals leave the levels open, and intervals get heavy tails.
 *
 * @param comparisons prepared without discrepancy
 */
export function jointDensity(prior: Prior, comparisons: readonly Comparison[]): JointDensity {
  const errors = jointErrors(comparisons);
  const ofPrior = priorDensity(prior);
  const at = evaluator(prior, ofPrior, comparisons, errors);
  const levels = (name: 'size' | 'power', of: JointErrors['ofSizes']) => (point: Evaluated) =>
    ERROR_LEVELS[name].logarithms.map(
      (weight, k) => weight + of(point.residuals, { ...MIDDLE_LEVELS, [name]: k }),
    );
  const sizeLevels = levels('size', errors.ofSizes);
  const powerLevels = levels('power', errors.ofPowers);
  return {
    errors,
    prior: ofPrior,
    at,
    joint: ({ residuals, prior: own }, index) =>
      own + levelsWeight(index) + errors.ofSizes(residuals, index) + errors.ofPowers(residuals, index),
    marginal: (coordinates) => {
      const point = at(coordinates);
      if (!point) return Number.NEGATIVE_INFINITY;
      return point.prior + logSum(sizeLevels(point)) + logSum(powerLevels(point));
    },
    sizeLevels,
    powerLevels,
  };
}

function priorDensity({ coefficients, mean, covariance }: Prior): JointDensity['prior'] {
  const lower = cholesky(covariance);
  const bounds = coefficients.map(boundsOf);
  const away = new Float64Array(mean.length);
  const white = new Float64Array(mean.length);
  return (coordinates) => {
    for (let i = 0; i < coordinates.length; i++) {
      const [low, high] = bounds[i]!;
      if (!(coordinates[i]! >= low && coordinates[i]! <= high)) return undefined;
      away[i] = coordinates[i]! - mean[i]!;
    }
    whiten(lower, away, white, 0);
    let square = 0;
    for (const value of white) square += value * value;
    return -0.5 * square;
  };
}

function evaluator(
  { coefficients }: Prior,
  ofPrior: JointDensity['prior'],
  comparisons: readonly Comparison[],
  errors: JointErrors,
): JointDensity['at'] {
  const model = trialModel(coefficients);
  return (coordinates) => {
    const prior = ofPrior(coordinates);
    if (prior === undefined) return undefined;
    const residuals = { sizes: new Float64Array(errors.sizes), powers: new Float64Array(errors.powers) };
    for (let i = 0; i < comparisons.length; i++) {
      const point = model(comparisons[i]!.trial, coordinates);
      if (point.status !== 'steady') return undefined;
      errors.fill(i, point, residuals);
    }
    return { coordinates, residuals, prior };
  };
}
