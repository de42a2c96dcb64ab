import { inverse, Matrix } from 'ml-matrix';
import { normal, type Random } from '../random.ts';
import { type ChainEffort, runChain } from './chain.ts';
import { boundsOf } from './coefficient.ts';
import type { Prior } from './coefficients.ts';
import type { Comparison } from './compare.ts';
import { cholesky } from './covariance.ts';
import { type JointDensity, jointDensity } from './density.ts';
import { ERROR_LEVELS, MIDDLE_LEVELS } from './error-levels.ts';
import { flattened, type SamplingEffort, sampleDensity, systematic } from './importance.ts';
import { type Place, placeAt } from './place.ts';
import { logSum } from './proposal.ts';
import { type SharedError, sharedErrors } from './shared-error.ts';
import { straightCoordinates, straightened } from './straight-coordinates.ts';

/** One possible truth, as likely as every other draw. */
export interface PosteriorDraw {
  /** Every coefficient of the prior, along its scale. */
  readonly coordinates: readonly number[];
  /** Relative size error of the model itself, and relative error of its grinding power. */
  readonly discrepancy: number;
  readonly powerDiscrepancy: number;
  /** Share ρ of their variance that is the same at every setting. */
  readonly share: number;
  /** The analyser's scatter over the limits of ISO 13320. */
  readonly scatter: number;
  /** The part of the error that is the same at every setting, as the trials show it. */
  readonly shared: SharedError;
}

export interface PosteriorSample {
  readonly draws: readonly PosteriorDraw[];
  /** Effective number of draws behind them, by autocorrelation. */
  readonly effective: number;
  /** The likeliest point met, and by how much its ln density beats that of the mode given. */
  readonly likeliest: { readonly at: readonly number[]; readonly gain: number };
}

/** A local optimum with the normal approximation about it. */
export interface Mode {
  /** Coefficients along their scales. */
  readonly parameters: readonly number[];
  readonly covariance: Matrix;
}

/** How much a fit spends on its sample. */
export interface Effort {
  /** The look that says where the walkers begin. */
  readonly look: SamplingEffort;
  readonly walkers: number;
  readonly chain: ChainEffort;
}

/** Draws kept: enough for the 2.5 % and 97.5 % ends, few enough to be written to a file. */
const DRAWS = 400;
/** Share of the first proposals that comes from the prior: a region no search came upon still has its chance. */
const GUARD = 0.15;
export const EFFORT: Effort = {
  look: { evaluations: 1200, effective: 15, most: 2000 },
  walkers: 40,
  chain: { burnIn: 32, second: 12, surrogate: 400, least: 25, most: 160, effective: 210 },
};

/**
 * Equally likely draws of coefficients and errors from the posterior itself, not from its normal approximation: where friability
 * and threshold are known in combination only, what is possible bends and has one long tail. Population Monte Carlo says where
 * the walkers of an ensemble begin; the ensemble then samples.
 *
 * Coefficients of wheels no trial used are drawn from the prior given the others, exactly.
 *
 * @param modes local optima worth a look, the best first
 */
export function samplePosterior(
  prior: Prior,
  comparisons: readonly Comparison[],
  modes: readonly Mode[],
  random: Random,
  effort: Effort = EFFORT,
  progress?: (share: number) => void,
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
  const density = jointDensity(part, comparisons);
  const straight = straightCoordinates(part.coefficients);
  const along = straightened(density, straight);
  const own = modes.map(({ parameters, covariance }) => ({
    share: (1 - GUARD) / modes.length,
    mean: acting.map((i) => parameters[i]!),
    covariance: covariance.selection(acting, acting),
  }));
  const guard = { share: GUARD, mean: part.mean, covariance: part.covariance };
  const look = sampleDensity(density.marginal, [...own, guard], random, effort.look);
  // walkers that begin at the same few points would see no differences to go along
  const starts = systematic(flattened(look.weights, effort.walkers), effort.walkers, random()).map((k) =>
    begin(along, straight.to(look.points[k]!), random),
  );
  const chain = runChain(along, starts, random, effort.chain, progress);
  const mode = modes[0]!.parameters;
  const centre = own[0]!.mean;
  const complete = completion(prior, acting, idle);
  const shared = sharedErrors(density.errors);
  const best = look.points.reduce<{ at: readonly number[]; value: number }>(
    (a, at, k) => (look.densities[k]! > a.value ? { at, value: look.densities[k]! } : a),
    { at: centre, value: density.marginal(centre) },
  );
  return {
    effective: chain.effective,
    likeliest: {
      at: mode.map((value, i) => best.at[acting.indexOf(i)] ?? value),
      gain: best.value - density.marginal(centre),
    },
    draws: evenly(chain.places, DRAWS).map(({ point, index }) => ({
      coordinates: complete(straight.from(point.coordinates), random),
      discrepancy: ERROR_LEVELS.size.values[index.size]!,
      powerDiscrepancy: ERROR_LEVELS.power.values[index.power]!,
      share: ERROR_LEVELS.shared.values[index.shared]!,
      scatter: ERROR_LEVELS.scatter.values[index.scatter]!,
      shared: shared(point, index, random),
    })),
  };
}

/** A walker at a point, its levels drawn from their weights there. */
function begin(density: JointDensity, coordinates: readonly number[], random: Random): Place {
  const point = density.at(coordinates);
  if (!point) throw new Error('a point without weight was drawn');
  const index = {
    ...MIDDLE_LEVELS,
    size: drawnOf(density.sizeLevels(point), random),
    power: drawnOf(density.powerLevels(point), random),
  };
  return placeAt(density, point, index);
}

/** A number drawn by the ln of weights. */
function drawnOf(logarithms: readonly number[], random: Random): number {
  const total = logSum(logarithms);
  let left = random();
  for (let k = 0; k < logarithms.length; k++) {
    left -= Math.exp(logarithms[k]! - total);
    if (left <= 0) return k;
  }
  return logarithms.length - 1;
}

function evenly<T>(all: readonly T[], count: number): T[] {
  return Array.from({ length: count }, (_, k) => all[Math.floor(((k + 0.5) * all.length) / count)]!);
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
      const [low, high] = boundsOf(coefficients[i]!);
      full[i] = Math.min(high, Math.max(low, value));
    });
    return full;
  };
}

/** Covariance along the scales over draws. */
export function covarianceOf(draws: readonly PosteriorDraw[]): Matrix {
  const n = draws[0]!.coordinates.length;
  const mean = Array.from(
    { length: n },
    (_, i) => draws.reduce((sum, { coordinates }) => sum + coordinates[i]!, 0) / draws.length,
  );
  const result = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (const { coordinates } of draws) sum += (coordinates[i]! - mean[i]!) * (coordinates[j]! - mean[j]!);
      result.set(i, j, sum / (draws.length - 1));
      result.set(j, i, sum / (draws.length - 1));
    }
  }
  return result;
}
