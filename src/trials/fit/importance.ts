import { inverse, Matrix } from 'ml-matrix';
import type { Random } from '../random.ts';
import { flatCholesky } from './flat-cholesky.ts';
import { kernelProposal, logSum, mixedProposal, type Proposal, studentProposal } from './proposal.ts';

/** Points with weights that stand for a distribution. */
export interface WeightedSample {
  readonly points: readonly (readonly number[])[];
  /** ln π at every point. */
  readonly densities: readonly number[];
  /** Sum 1. */
  readonly weights: Float64Array;
  /** Number of equally weighted points that would say as much, 1/Σw². */
  readonly effective: number;
}

export interface SamplingEffort {
  /** Evaluations of the density, whatever they show: to stop as soon as the points look good favours missed tails. */
  readonly evaluations: number;
  /** Effective points below which it goes on, up to `most` evaluations. */
  readonly effective: number;
  readonly most: number;
}

const FREEDOM = 5;
/** The first proposal is wider than the normal approximation by this much. */
const INFLATION = 1.3;
const FIRST_PER_DIMENSION = 80;
const ROUND = 500;
const CENTRES = 250;
/** Width of a kernel over the spread of the points: wider than Silverman's, so that thin tails are met early. */
const KERNEL = 0.8;
/** Share of every round that still comes from the first proposal: guards against a region never proposed. */
const DEFENCE = 0.15;
/** Weights are flattened until at least so many points count when a proposal is made of them. */
const FEWEST = 40;

/** A normal distribution and how much of the first proposals comes from about it. */
export interface Guess {
  readonly share: number;
  readonly mean: readonly number[];
  readonly covariance: Matrix;
}

/**
 * Samples a distribution known up to a constant by adaptive importance sampling: first from wide Student-t about guesses,
 * then, round by round, from normal kernels on the weighted points so far, so that bent and lopsided distributions are
 * followed (population Monte Carlo, `recalled`: Cappé, Guillin, Marin & Robert, J. Comput. Graph. Stat. 13 (2004) 907). Each
 * point is weighted by the density over the proposal of its own round, fixed before it was drawn: a proposal made of a point
 * must not judge that point, or thin tails lose weight. The same seed gives the same sample.
 *
 * @param logDensity ln π(θ) up to a constant; −∞ where θ is impossible
 * @param guesses where to begin; shares sum to 1, the first sets the scale
 */
export function sampleDensity(
  logDensity: (at: readonly number[]) => number,
  guesses: readonly Guess[],
  random: Random,
  effort: SamplingEffort,
): WeightedSample {
  const mode = guesses[0]!.mean;
  const d = mode.length;
  const lower = flatCholesky(flat(guesses[0]!.covariance), d);
  const factor = Matrix.from1DArray(d, d, lower);
  const first = firstProposal(guesses, mode, factor);
  const standard: Float64Array[] = [];
  const points: number[][] = [];
  const densities: number[] = [];
  const rounds: number[][] = [];
  let weights: Float64Array = new Float64Array(0);
  let effective = 0;
  while (
    points.length < effort.evaluations ||
    (effective < effort.effective && points.length < effort.most)
  ) {
    const proposal = rounds.length === 0 ? first : adapted(standard, weights, first);
    const count = rounds.length === 0 ? FIRST_PER_DIMENSION * d : ROUND;
    const round: number[] = [];
    for (let k = 0; k < count; k++) {
      const z = proposal.draw(random);
      const at = mode.map((value, i) => value + product(lower, d, i, z));
      standard.push(z);
      points.push(at);
      const value = logDensity(at);
      densities.push(value);
      round.push(value - proposal.logDensity(z));
    }
    rounds.push(round);
    weights = pooled(rounds);
    effective = effectiveOf(weights);
  }
  return { points, densities, weights, effective };
}

/** Student-t about every guess, in coordinates in which the first is standard. */
function firstProposal(guesses: readonly Guess[], origin: readonly number[], factor: Matrix): Proposal {
  const back = inverse(factor);
  return mixedProposal(
    guesses.map(({ share, mean, covariance }) => {
      const away = mean.map((value, i) => value - origin[i]!);
      const centre = back.mmul(Matrix.columnVector(away)).to1DArray();
      const shape = back
        .mmul(covariance)
        .mmul(back.transpose())
        .mul(INFLATION ** 2);
      const lower = flatCholesky(flat(shape), centre.length);
      return [share, studentProposal(Float64Array.from(centre), lower, FREEDOM)];
    }),
  );
}

const flat = (matrix: Matrix): Float64Array => Float64Array.from(matrix.to1DArray());

function product(lower: Float64Array, d: number, row: number, z: Float64Array): number {
  let sum = 0;
  for (let j = 0; j <= row; j++) sum += lower[row * d + j]! * z[j]!;
  return sum;
}

/** The next proposal: kernels on the points as weighted, in the shape of their spread. */
function adapted(standard: readonly Float64Array[], weights: Float64Array, first: Proposal): Proposal {
  const level = flattened(weights);
  const kernel = spreadOf(standard, level).mul(KERNEL ** 2);
  const lower = flatCholesky(flat(kernel), kernel.rows);
  const centres = systematic(level, CENTRES, 0.5).map((k) => standard[k]!);
  return mixedProposal([
    [DEFENCE, first],
    [1 - DEFENCE, kernelProposal(centres, lower, FREEDOM)],
  ]);
}

/** Weights to a power ≤ 1, the largest that leaves enough points to count. */
export function flattened(weights: Float64Array, fewest = FEWEST): Float64Array {
  let flat = weights;
  for (let power = 0.7; power > 0.01 && effectiveOf(flat) < fewest; power *= 0.7)
    flat = normalised(Array.from(weights, (weight) => power * Math.log(weight)));
  return flat;
}

function spreadOf(points: readonly Float64Array[], weights: Float64Array): Matrix {
  const d = points[0]!.length;
  const mean = new Float64Array(d);
  for (let k = 0; k < points.length; k++)
    for (let i = 0; i < d; i++) mean[i]! += weights[k]! * points[k]![i]!;
  const spread = Matrix.zeros(d, d);
  for (let k = 0; k < points.length; k++) {
    const weight = weights[k]!;
    if (weight === 0) continue;
    for (let i = 0; i < d; i++)
      for (let j = 0; j <= i; j++) {
        const sum = spread.get(i, j) + weight * (points[k]![i]! - mean[i]!) * (points[k]![j]! - mean[j]!);
        spread.set(i, j, sum);
        spread.set(j, i, sum);
      }
  }
  // a direction in which the few points that count happen to agree must not close
  for (let i = 0; i < d; i++) spread.set(i, i, spread.get(i, i) * (1 + 1e-6) + 1e-9);
  return spread;
}

/** Weights over the later two thirds of the rounds: the first only find the way. Every round counts alike, by no merit of its own. */
function pooled(rounds: readonly (readonly number[])[]): Float64Array {
  const from = Math.floor(rounds.length / 3);
  return normalised(
    rounds.flatMap((round, k) => (k < from ? round.map(() => Number.NEGATIVE_INFINITY) : round)),
  );
}

function normalised(logarithms: readonly number[]): Float64Array {
  const total = logSum(logarithms);
  return Float64Array.from(logarithms, (value) =>
    value === Number.NEGATIVE_INFINITY ? 0 : Math.exp(value - total),
  );
}

function effectiveOf(weights: Float64Array): number {
  let square = 0;
  for (const weight of weights) square += weight * weight;
  return square > 0 ? 1 / square : 0;
}

/**
 * Indices of `count` equally weighted points that stand for weighted ones (systematic resampling).
 *
 * @param offset 0…1, where on the first step to begin
 */
export function systematic(weights: Float64Array, count: number, offset: number): number[] {
  const chosen: number[] = [];
  let sum = 0;
  for (let k = 0; k < weights.length && chosen.length < count; k++) {
    sum += weights[k]!;
    while (chosen.length < count && (chosen.length + offset) / count < sum) chosen.push(k);
  }
  while (chosen.length < count) chosen.push(chosen[chosen.length - 1] ?? 0);
  return chosen;
}
