import { inverse, Matrix } from 'ml-matrix';
import { normal, type Random } from '../random.ts';
import type { Prior } from './coefficients.ts';
import type { Comparison } from './compare.ts';
import { cholesky } from './covariance.ts';
import { type DiscrepancyBelief, jointDensity } from './density.ts';
import { type SamplingEffort, sampleDensity, systematic } from './importance.ts';

/** One possible truth, as likely as every other draw. */
export interface PosteriorDraw {
  /** ln of every coefficient of the prior, SI. */
  readonly logarithms: readonly number[];
  /** Relative size error of the model itself. */
  readonly discrepancy: number;
}

export interface PosteriorSample {
  readonly draws: readonly PosteriorDraw[];
  /** Effective number of points behind the draws. */
  readonly effective: number;
  /** The likeliest point met, and by how much its ln density beats that of the mode given. */
  readonly likeliest: { readonly at: readonly number[]; readonly gain: number };
}

/** A local optimum with the normal approximation about it. */
export interface Mode {
  /** ln of the coefficients. */
  readonly parameters: readonly number[];
  readonly covariance: Matrix;
}

/** Draws kept: enough for the 2.5 % and 97.5 % ends, few enough to be written to a file. */
const DRAWS = 400;
/** Share of the proposals that comes from the prior: a region no search came upon still has its chance. */
const GUARD = 0.15;
/** Evaluations of the density behind one fit. */
export const EFFORT: SamplingEffort = { evaluations: 2400, effective: 120, most: 6000 };

/**
 * Equally likely draws of coefficients and discrepancy from the posterior itself, not from its normal approximation: where
 * friability and threshold are known in combination only, what is possible bends and has one long tail.
 *
 * Coefficients of wheels no trial used are drawn from the prior given the others, exactly.
 *
 * @param modes local optima worth a look, the best first
 */
export function samplePosterior(
  prior: Prior,
  comparisons: readonly Comparison[],
  belief: DiscrepancyBelief,
  modes: readonly Mode[],
  random: Random,
  effort: SamplingEffort = EFFORT,
): PosteriorSample {
  const wheels = new Set(comparisons.map(({ trial }) => trial.scenario.settings.wheel));
  const acting: number[] = [];
  const idle: number[] = [];
  prior.coefficients.forEach(({ wheel }, i) => {
    (wheel === undefined || wheels.has(wheel) ? acting : idle).push(i);
  });
  const part = {
    coefficients: acting.map((i) => prior.coefficients[i]!),
    mean: acting.map((i) => prior.mean[i]!),
    covariance: prior.covariance.selection(acting, acting),
  };
  const density = jointDensity(part, comparisons, belief);
  const own = modes.map(({ parameters, covariance }) => ({
    share: (1 - GUARD) / modes.length,
    mean: acting.map((i) => parameters[i]!),
    covariance: covariance.selection(acting, acting),
  }));
  const guard = { share: GUARD, mean: part.mean, covariance: part.covariance };
  const sample = sampleDensity(density.marginal, [...own, guard], random, effort);
  const mode = modes[0]!.parameters;
  const centre = own[0]!.mean;
  const complete = completion(prior, acting, idle);
  const chosen = systematic(sample.weights, DRAWS, random()).map((k) => sample.points[k]!);
  const best = sample.points.reduce((a, b) => (density.marginal(b) > density.marginal(a) ? b : a), centre);
  return {
    effective: sample.effective,
    likeliest: {
      at: mode.map((value, i) => best[acting.indexOf(i)] ?? value),
      gain: density.marginal(best) - density.marginal(centre),
    },
    draws: chosen.map((theta) => ({
      logarithms: complete(theta, random),
      discrepancy: levelOf(density.levels(theta), belief, random),
    })),
  };
}

function levelOf(
  logarithms: Float64Array | undefined,
  { levels }: DiscrepancyBelief,
  random: Random,
): number {
  if (!logarithms) throw new Error('a point without weight was drawn');
  const most = logarithms.reduce((a, b) => Math.max(a, b));
  const weights = Array.from(logarithms, (value) => Math.exp(value - most));
  let left = random() * weights.reduce((sum, weight) => sum + weight, 0);
  for (let k = 0; k < weights.length; k++) {
    left -= weights[k]!;
    if (left <= 0) return levels[k]!;
  }
  return levels[levels.length - 1]!;
}

/** Adds the coefficients no trial touched: normal given the others, N(μ_u + B(θ_a − μ_a), C_u − B C_au) with B = C_ua C_a⁻¹. */
function completion(
  { mean, covariance, coefficients }: Prior,
  acting: readonly number[],
  idle: readonly number[],
): (theta: readonly number[], random: Random) => number[] {
  if (idle.length === 0) return (theta) => [...theta];
  const cross = covariance.selection([...idle], [...acting]);
  const slope = cross.mmul(inverse(covariance.selection([...acting], [...acting])));
  const own = covariance.selection([...idle], [...idle]).sub(slope.mmul(cross.transpose()));
  const lower = cholesky(own);
  return (theta, random) => {
    const full = [...mean];
    acting.forEach((i, k) => {
      full[i] = theta[k]!;
    });
    const z = idle.map(() => normal(random));
    idle.forEach((i, row) => {
      let value = mean[i]!;
      acting.forEach((a, k) => {
        value += slope.get(row, k) * (theta[k]! - mean[a]!);
      });
      for (let j = 0; j <= row; j++) value += lower.get(row, j) * z[j]!;
      const { lower: low, upper } = coefficients[i]!;
      full[i] = Math.min(Math.log(upper), Math.max(Math.log(low), value));
    });
    return full;
  };
}

/** Covariance of the logarithms over draws. */
export function covarianceOf(draws: readonly PosteriorDraw[]): Matrix {
  const n = draws[0]!.logarithms.length;
  const mean = Array.from(
    { length: n },
    (_, i) => draws.reduce((sum, { logarithms }) => sum + logarithms[i]!, 0) / draws.length,
  );
  const result = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (const { logarithms } of draws) sum += (logarithms[i]! - mean[i]!) * (logarithms[j]! - mean[j]!);
      result.set(i, j, sum / (draws.length - 1));
      result.set(j, i, sum / (draws.length - 1));
    }
  }
  return result;
}
