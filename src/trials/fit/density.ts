import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Coefficient, Prior } from './coefficients.ts';
import { type Comparison, curveValues } from './compare.ts';
import { cholesky, modelErrors, whiten } from './covariance.ts';
import { trialModel } from './model.ts';
import { logSum } from './proposal.ts';

/** How far the model itself is believed to err: levels of relative size error with their weights. */
export interface DiscrepancyBelief {
  readonly levels: readonly number[];
  /** ln of the weight of each level. */
  readonly logarithms: readonly number[];
}

const LEVELS = 25;
const MOST = 0.8;

/**
 * Half-Cauchy belief about the model's own error on levels spaced evenly in their logarithm, from a floor to 80 %: small
 * errors are likely, large ones possible, and the trials decide (`recalled`: Gelman, Bayesian Analysis 1 (2006) 515).
 *
 * @param floor least error granted [-]
 * @param scale half of the weight lies below it [-]
 */
export function discrepancyBelief(floor: number, scale: number): DiscrepancyBelief {
  const levels = Array.from({ length: LEVELS }, (_, k) => floor * (MOST / floor) ** (k / (LEVELS - 1)));
  const plain = levels.map((level) => Math.log(level) - Math.log1p((level / scale) ** 2));
  const total = logSum(plain);
  return { levels, logarithms: plain.map((value) => value - total) };
}

/** A trial's residuals turned so that measuring error and model error are both diagonal. */
interface Turned {
  readonly comparison: Comparison;
  /** Uᵀ L⁻¹ with C = L Lᵀ and L⁻¹ K L⁻ᵀ = U Λ Uᵀ. */
  readonly turn?: Matrix;
  /** Λ: variance of the model's error over that of measuring, at discrepancy 1. */
  readonly ratios: readonly number[];
  readonly powerRatio: number;
}

function turned(comparison: Comparison): Turned {
  const { curve, power, trial } = comparison;
  // power errs by e of its measured value, so a model error of the same kind is 1/e² times its variance
  const powerRatio = power ? 1 / trial.power!.error ** 2 : 0;
  if (!curve) return { comparison, ratios: [], powerRatio };
  const unlower = inverse(cholesky(curve.covariance));
  const inner = unlower.mmul(modelErrors(curve)).mmul(unlower.transpose());
  const even = Matrix.add(inner, inner.transpose()).mul(0.5);
  const { eigenvectorMatrix, realEigenvalues } = new EigenvalueDecomposition(even, {
    assumeSymmetric: true,
  });
  return {
    comparison,
    turn: eigenvectorMatrix.transpose().mmul(unlower),
    ratios: realEigenvalues.map((value) => Math.max(0, value)),
    powerRatio,
  };
}

/** Squares and variance ratios of a trial's residuals, appended to `squares` and `ratios`. */
function collect(one: Turned, solved: Solved, squares: number[], ratios: number[]): void {
  const { curve, power } = one.comparison;
  if (curve && one.turn) {
    const values = curveValues(solved, curve);
    for (let i = 0; i < values.length; i++) {
      let sum = 0;
      for (let j = 0; j < values.length; j++) sum += one.turn.get(i, j) * (values[j]! - curve.measured[j]!);
      squares.push(sum * sum);
      ratios.push(one.ratios[i]!);
    }
  }
  if (power) {
    const { grindingPower, rotorPower } = solved.state.conditions;
    squares.push((((power.net ? grindingPower : rotorPower) - power.measured) / power.error) ** 2);
    ratios.push(one.powerRatio);
  }
}

/** The posterior density of coefficients, with the model's own error summed over. */
export interface JointDensity {
  /** ln π(θ) up to a constant; −∞ out of bounds or where the mill has no steady state at some trial. */
  readonly marginal: (logarithms: readonly number[]) => number;
  /** ln of the weight of each discrepancy level given θ; undefined where θ is impossible. */
  readonly levels: (logarithms: readonly number[]) => Float64Array | undefined;
}

/**
 * ln π(θ, s) = ln p(s) − ½ Σ_i [ u_i²/(1 + s² λ_i) + ln(1 + s² λ_i) ] − ½ (θ−θ_0)ᵀ C_0⁻¹ (θ−θ_0) (`derived`): u the
 * residuals of all trials with measuring errors whitened, λ the model's variance over theirs at discrepancy 1. Few residuals
 * leave s open, and intervals get Student's heavy tails; many settle it.
 *
 * @param comparisons prepared without discrepancy
 */
export function jointDensity(
  prior: Prior,
  comparisons: readonly Comparison[],
  belief: DiscrepancyBelief,
): JointDensity {
  const { coefficients, mean } = prior;
  const all = comparisons.map(turned);
  const model = trialModel(coefficients);
  const lower = cholesky(prior.covariance);
  // asked again of the same point when draws are chosen; a point without a steady state is remembered too
  const known = new WeakMap<readonly number[], Float64Array | 'impossible'>();
  const white = new Float64Array(mean.length);
  const levels = (theta: readonly number[]): Float64Array | undefined => {
    const found = known.get(theta);
    if (found) return found === 'impossible' ? undefined : found;
    const made = levelsAt(all, coefficients, belief, theta, model);
    if (!made) {
      known.set(theta, 'impossible');
      return undefined;
    }
    whiten(
      lower,
      theta.map((value, i) => value - mean[i]!),
      white,
      0,
    );
    let square = 0;
    for (const value of white) square += value * value;
    for (let k = 0; k < made.length; k++) made[k]! -= 0.5 * square;
    known.set(theta, made);
    return made;
  };
  return {
    levels,
    marginal: (theta) => {
      const made = levels(theta);
      return made ? logSum(made) : Number.NEGATIVE_INFINITY;
    },
  };
}

function levelsAt(
  all: readonly Turned[],
  coefficients: readonly Coefficient[],
  belief: DiscrepancyBelief,
  theta: readonly number[],
  model: ReturnType<typeof trialModel>,
): Float64Array | undefined {
  for (let i = 0; i < theta.length; i++) {
    const { lower, upper } = coefficients[i]!;
    if (!(theta[i]! >= Math.log(lower) && theta[i]! <= Math.log(upper))) return undefined;
  }
  const squares: number[] = [];
  const ratios: number[] = [];
  for (const one of all) {
    const point = model(one.comparison.trial, theta);
    if (point.status !== 'steady') return undefined;
    collect(one, point, squares, ratios);
  }
  return Float64Array.from(belief.levels, (level, k) => {
    let sum = belief.logarithms[k]!;
    for (let i = 0; i < squares.length; i++) {
      const variance = 1 + level * level * ratios[i]!;
      sum -= 0.5 * (squares[i]! / variance + Math.log(variance));
    }
    return sum;
  });
}
