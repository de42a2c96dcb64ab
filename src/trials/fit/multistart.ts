import type { Matrix } from 'ml-matrix';
import { type LeastSquares, leastSquares, type Solution, sumOfSquares } from '../least-squares.ts';
import { normal, type Random } from '../random.ts';
import type { Prior } from './coefficients.ts';
import { cholesky } from './covariance.ts';

/** Local optima of a fit, the best first, and how the starts went. */
export interface Optima {
  readonly solutions: readonly Solution[];
  readonly starts: number;
  /** Starts that came to the best answer within one unit of cost. */
  readonly agreeing: number;
}

/** Points of the prior looked at once each before any search begins. */
const LOOKS = 240;
/** Starts are so far apart at least, in prior standard deviations. */
const APART = 0.7;
/** An optimum this much worse in Σ r² than the best carries next to nothing of the posterior. */
const OUT_OF_REACH = 16;
/** Two solutions closer than this in every coefficient's own error are one. */
const SAME = 0.5;

/**
 * Least squares from many starts: the prior's middle and the best of many points of the prior that lie apart. Near its
 * grind limit a mill has a second optimum, narrow and far from the first, that a few starts at random miss.
 *
 * @param starts number of searches
 * @returns undefined where the model has no answer at any start
 */
export function optimaOf(
  problem: LeastSquares,
  prior: Prior,
  starts: number,
  random: Random,
): Optima | undefined {
  const begun = [prior.mean, ...apart(problem, prior, starts - 1, random)];
  const found = begun.flatMap((start) => leastSquares(problem, start) ?? []);
  if (found.length === 0) return undefined;
  const sorted = [...found].sort((a, b) => a.cost - b.cost);
  const least = sorted[0]!.cost;
  const solutions: Solution[] = [];
  for (const one of sorted)
    if (one.cost - least < OUT_OF_REACH && !solutions.some((other) => same(one, other))) solutions.push(one);
  return {
    solutions,
    starts: begun.length,
    agreeing: found.filter(({ cost }) => cost - least < 1).length,
  };
}

function same(one: Solution, other: Solution): boolean {
  return one.parameters.every(
    (value, i) => Math.abs(value - other.parameters[i]!) < SAME * Math.sqrt(other.covariance.get(i, i)),
  );
}

/** The best of many points of the prior, each apart from those before it. */
function apart(problem: LeastSquares, prior: Prior, count: number, random: Random): number[][] {
  const lower = cholesky(prior.covariance);
  const looked = Array.from({ length: LOOKS }, () => drawFrom(prior.mean, lower, random))
    .map((drawn) => drawn.map((value, i) => Math.min(problem.upper[i]!, Math.max(problem.lower[i]!, value))))
    .flatMap((at) => {
      const r = problem.residuals(at);
      return r ? [{ at, cost: sumOfSquares(r) }] : [];
    })
    .sort((a, b) => a.cost - b.cost);
  const chosen: number[][] = [];
  for (const { at } of looked) {
    if (chosen.length >= count) break;
    const near = chosen.some((other) =>
      at.every((value, i) => Math.abs(value - other[i]!) < APART * prior.coefficients[i]!.spread),
    );
    if (!near) chosen.push(at);
  }
  return chosen;
}

/** One draw from N(mean, L Lᵀ). */
export function drawFrom(mean: readonly number[], lower: Matrix, random: Random): number[] {
  const z = mean.map(() => normal(random));
  return mean.map((value, i) => {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += lower.get(i, j) * z[j]!;
    return value + sum;
  });
}
