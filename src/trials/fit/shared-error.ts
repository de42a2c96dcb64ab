import { normal, type Random } from '../random.ts';
import { correlation } from './covariance.ts';
import type { Evaluated } from './density.ts';
import { ERROR_LEVELS, type LevelIndex } from './error-levels.ts';
import { backSolve, flatCholesky, forwardSolve, lowerTimes } from './flat-cholesky.ts';
import type { JointErrors } from './joint-errors.ts';

/** Places along ln x at which the error all trials share is kept; half a correlation length apart, from 0.3 µm to 0.9 mm. */
const FIRST = Math.log(0.3e-6);
const STEP = 0.35;
export const PLACES: readonly number[] = Array.from({ length: 24 }, (_, k) => FIRST + STEP * k);

/** The error of the model that is the same at every setting of a campaign. */
export interface SharedError {
  /** δ at `PLACES`, relative size. */
  readonly sizes: readonly number[];
  /** Relative error of grinding power. */
  readonly power: number;
}

/**
 * Draws b given the residuals and levels, in closed form (`derived`): b normal with covariance s²ρ k, residuals H b + noise, so
 * b | r has mean A Σ⁻¹ r and covariance s²ρ k − A Σ⁻¹ Aᵀ with A = s²ρ k Hᵀ.
 */
export function sharedErrors(
  errors: JointErrors,
): (point: Evaluated, index: LevelIndex, random: Random) => SharedError {
  const known = new Map<string, ReturnType<typeof conditional>>();
  return ({ residuals }, index, random) => {
    const key = `${index.size} ${index.shared} ${index.scatter}`;
    let given = known.get(key);
    if (!given) {
      given = conditional(errors, index);
      known.set(key, given);
    }
    const m = PLACES.length;
    const z = Float64Array.from({ length: m }, () => normal(random));
    const free = lowerTimes(given.lower, m, z);
    const white = new Float64Array(errors.sizes);
    forwardSolve(given.noise, errors.sizes, residuals.sizes, white);
    const sizes = PLACES.map((_, k) => {
      let sum = free[k]!;
      for (let i = 0; i < errors.sizes; i++) sum += given.gain[k * errors.sizes + i]! * white[i]!;
      return sum;
    });
    return { sizes, power: sharedPower(errors, residuals.powers, index, random) };
  };
}

/** L⁻¹Aᵀ by place, and the lower triangle of b's covariance given the residuals. */
function conditional(errors: JointErrors, index: LevelIndex) {
  const n = errors.sizes;
  const m = PLACES.length;
  const common = ERROR_LEVELS.size.values[index.size]! ** 2 * ERROR_LEVELS.shared.values[index.shared]!;
  const noise = errors.sizeFactor(index).lower;
  const gain = new Float64Array(m * n);
  const row = new Float64Array(n);
  for (let k = 0; k < m; k++) {
    const across = Float64Array.from(
      { length: n },
      (_, i) => common * errors.turns[i]! * correlation(PLACES[k]! - errors.places[i]!),
    );
    forwardSolve(noise, n, across, row);
    gain.set(row, k * n);
  }
  const covariance = new Float64Array(m * m);
  for (let k = 0; k < m; k++) {
    for (let l = 0; l < m; l++) {
      let sum = common * correlation(PLACES[k]! - PLACES[l]!);
      for (let i = 0; i < n; i++) sum -= gain[k * n + i]! * gain[l * n + i]!;
      // a trace keeps the smooth kernel's smallest directions above rounding
      covariance[k * m + l] = k === l ? sum + 1e-8 * common : sum;
    }
  }
  return { gain, noise, lower: flatCholesky(covariance, m) };
}

function sharedPower(
  errors: JointErrors,
  residuals: Float64Array,
  index: LevelIndex,
  random: Random,
): number {
  const n = errors.powers;
  const common = ERROR_LEVELS.power.values[index.power]! ** 2 * ERROR_LEVELS.shared.values[index.shared]!;
  if (n === 0) return Math.sqrt(common) * normal(random);
  const { lower } = errors.powerFactor(index);
  const across = Float64Array.from(errors.grinding, (grinding) => common * grinding);
  const gain = new Float64Array(n);
  const white = new Float64Array(n);
  forwardSolve(lower, n, across, gain);
  forwardSolve(lower, n, residuals, white);
  let [mean, taken] = [0, 0];
  for (let i = 0; i < n; i++) {
    mean += gain[i]! * white[i]!;
    taken += gain[i]! ** 2;
  }
  return mean + Math.sqrt(Math.max(0, common - taken)) * normal(random);
}

/**
 * A smooth curve through values at places along ln x: the same kernel's own interpolation, 0 far from them.
 *
 * @param places evenly spaced, half a correlation length or a whole one apart
 */
export function smoothThrough(
  values: readonly number[],
  places: readonly number[] = PLACES,
): (logSize: number) => number {
  // before any trial nothing is shared
  if (values.every((value) => value === 0)) return () => 0;
  const weights = solveKernel(values, places);
  return (logSize) => {
    let sum = 0;
    for (let k = 0; k < places.length; k++) sum += weights[k]! * correlation(logSize - places[k]!);
    return sum;
  };
}

const kernels = new WeakMap<readonly number[], Float64Array>();

function solveKernel(values: readonly number[], places: readonly number[]): Float64Array {
  const m = places.length;
  let kernel = kernels.get(places);
  if (!kernel) {
    kernel = flatCholesky(
      Float64Array.from({ length: m * m }, (_, at) => {
        const [k, l] = [Math.floor(at / m), at % m];
        return correlation(places[k]! - places[l]!) + (k === l ? 1e-6 : 0);
      }),
      m,
    );
    kernels.set(places, kernel);
  }
  const out = new Float64Array(m);
  forwardSolve(kernel, m, values, out);
  backSolve(kernel, m, out, out);
  return out;
}
