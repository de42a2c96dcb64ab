import type { Evaluated, JointDensity } from './density.ts';
import type { LevelIndex } from './error-levels.ts';
import { backSolve, flatCholesky, forwardSolve, lowerTimes } from './flat-cholesky.ts';

/** A quadratic response surface of all residuals: cheap enough to be asked a hundred times for every solve of the model. */
export interface Surrogate {
  /** The surface in place of the model; undefined out of bounds and beyond its reach. */
  readonly at: (coordinates: readonly number[]) => Evaluated | undefined;
  /** Coordinates as standard ones, u, and back. */
  readonly standard: (coordinates: readonly number[]) => Float64Array;
  readonly place: (u: Float64Array) => number[];
  /** −d ln π/du with the errors at given levels, the prior taken as quadratic: what a glide goes by. */
  readonly slope: (u: Float64Array, index: LevelIndex, out: Float64Array) => void;
}

/** Points a term needs at least, so that the surface follows the model and not the choice of points. */
const POINTS_PER_TERM = 4;
/** Least weight of a point far down the slopes: the surface is to be good where the posterior lies. */
const DEPTH = 12;
const RIDGE = 1e-6;
/** Points whose ln density lies within so many of the best a coefficient are where the posterior is. */
const NEAR = 1.8;
/** Share of them that the surface reaches over: beyond it is not asked, since a quadratic may turn there. */
const REACHED = 1;

/** A point the model was solved at, with its ln density. */
interface Seen {
  readonly point: Evaluated;
  readonly density: number;
}

/**
 * Least squares of every residual on 1, u and u_i u_j, u the coefficients in coordinates in which they are standard
 * (`derived`; Box & Wilson's response surface). It stands for the model in proposals only, which the model itself then
 * accepts or not.
 *
 * @param seen points the model was solved at, with their ln density
 * @param mean, lower middle and Cholesky factor of the standard coordinates
 * @returns undefined where there are too few points for so many coefficients
 */
export function surrogateOf(
  density: JointDensity,
  seen: readonly Seen[],
  mean: Float64Array,
  lower: Float64Array,
): Surrogate | undefined {
  const d = mean.length;
  const best = seen.reduce((most, one) => Math.max(most, one.density), Number.NEGATIVE_INFINITY);
  const used = seen.filter((one) => best - one.density < DEPTH * (2 + d / 4));
  const terms = 1 + d + (d * (d + 1)) / 2;
  if (used.length < POINTS_PER_TERM * terms) return undefined;
  const frame = frameOf(mean, lower);
  const surface = leastSquaresOf(density, used, best, frame);
  const reach = reachOf(
    used.filter((one) => best - one.density < NEAR * d),
    frame,
  );
  const { sizes, powers } = density.errors;
  const phi = new Float64Array(terms);
  const residualsAt = (): Evaluated['residuals'] => {
    const residuals = { sizes: new Float64Array(sizes), powers: new Float64Array(powers) };
    for (let r = 0, at = 0; r < sizes + powers; r++) {
      let sum = 0;
      for (let i = 0; i < terms; i++, at++) sum += surface[at]! * phi[i]!;
      if (r < sizes) residuals.sizes[r] = sum;
      else residuals.powers[r - sizes] = sum;
    }
    return residuals;
  };
  return {
    at: (coordinates) => {
      const prior = density.prior(coordinates);
      if (prior === undefined) return undefined;
      const u = frame.standard(coordinates);
      if (squareOf(u) > reach) return undefined;
      features(u, phi);
      return { coordinates, residuals: residualsAt(), prior };
    },
    standard: frame.standard,
    place: frame.place,
    slope: slopeOf(density, frame, surface, residualsAt, phi),
  };
}

/** Standard coordinates about a middle. */
interface Frame {
  readonly d: number;
  readonly standard: (coordinates: readonly number[]) => Float64Array;
  readonly place: (u: Float64Array) => number[];
}

function frameOf(mean: Float64Array, lower: Float64Array): Frame {
  const d = mean.length;
  const away = new Float64Array(d);
  return {
    d,
    standard: (coordinates) => {
      for (let i = 0; i < d; i++) away[i] = coordinates[i]! - mean[i]!;
      const u = new Float64Array(d);
      forwardSolve(lower, d, away, u);
      return u;
    },
    place: (u) => Array.from(lowerTimes(lower, d, u), (value, i) => mean[i]! + value),
  };
}

/** 1, u and u_i u_j with j ≤ i. */
function features(u: Float64Array, out: Float64Array): void {
  const d = u.length;
  out[0] = 1;
  let at = 1;
  for (let i = 0; i < d; i++) out[at++] = u[i]!;
  for (let i = 0; i < d; i++) for (let j = 0; j <= i; j++) out[at++] = u[i]! * u[j]!;
}

function squareOf(u: Float64Array): number {
  let sum = 0;
  for (const value of u) sum += value * value;
  return sum;
}

function reachOf(near: readonly Seen[], { standard }: Frame): number {
  const squares = Float64Array.from(near, ({ point }) => squareOf(standard(point.coordinates))).sort();
  return squares[Math.floor(REACHED * (squares.length - 1))]!;
}

/** Weights of the features, residual by residual. */
function leastSquaresOf(
  { errors: { sizes, powers } }: JointDensity,
  used: readonly Seen[],
  best: number,
  { d, standard }: Frame,
): Float64Array {
  const terms = 1 + d + (d * (d + 1)) / 2;
  const rows = sizes + powers;
  const phi = new Float64Array(terms);
  const square = new Float64Array(terms * terms);
  const right = new Float64Array(rows * terms);
  for (const { point, density } of used) {
    features(standard(point.coordinates), phi);
    const weight = 1 / (1 + (best - density) / DEPTH);
    for (let i = 0; i < terms; i++) {
      const w = weight * phi[i]!;
      for (let j = 0; j <= i; j++) square[i * terms + j]! += w * phi[j]!;
      for (let r = 0; r < sizes; r++) right[r * terms + i]! += w * point.residuals.sizes[r]!;
      for (let r = 0; r < powers; r++) right[(sizes + r) * terms + i]! += w * point.residuals.powers[r]!;
    }
  }
  for (let i = 0; i < terms; i++) {
    square[i * terms + i]! *= 1 + RIDGE;
    for (let j = 0; j < i; j++) square[j * terms + i] = square[i * terms + j]!;
  }
  const factor = flatCholesky(square, terms);
  const out = new Float64Array(rows * terms);
  for (let r = 0; r < rows; r++) {
    const row = out.subarray(r * terms, (r + 1) * terms);
    forwardSolve(factor, terms, right.subarray(r * terms, (r + 1) * terms), row);
    backSolve(factor, terms, row, row);
  }
  return out;
}

/** ½ rᵀ Σ⁻¹ r differentiated: with s = Wᵀ Σ⁻¹ r over the features, s_i + Σ_j s_ij u_j (twice where i = j); and the prior. */
function slopeOf(
  density: JointDensity,
  frame: Frame,
  surface: Float64Array,
  residualsAt: () => Evaluated['residuals'],
  phi: Float64Array,
): Surrogate['slope'] {
  const { errors } = density;
  const { sizes, powers } = errors;
  const { d } = frame;
  const terms = phi.length;
  const prior = quadraticPrior(density, frame);
  const sums = new Float64Array(terms);
  return (u, index, out) => {
    features(u, phi);
    const residuals = residualsAt();
    solveTwice(errors.sizeFactor(index).lower, sizes, residuals.sizes);
    solveTwice(errors.powerFactor(index).lower, powers, residuals.powers);
    sums.fill(0);
    for (let r = 0, at = 0; r < sizes + powers; r++) {
      const v = r < sizes ? residuals.sizes[r]! : residuals.powers[r - sizes]!;
      for (let i = 0; i < terms; i++, at++) sums[i]! += surface[at]! * v;
    }
    prior(u, out);
    let at = 1 + d;
    for (let i = 0; i < d; i++) {
      out[i]! += sums[1 + i]!;
      for (let j = 0; j <= i; j++, at++) {
        out[i]! += sums[at]! * u[j]!;
        out[j]! += sums[at]! * u[i]!;
      }
    }
  };
}

function solveTwice(lower: Float64Array, n: number, values: Float64Array): void {
  forwardSolve(lower, n, values, values);
  backSolve(lower, n, values, values);
}

/** Step of the differences of the prior, in standard coordinates. */
const PRIOR_STEP = 0.1;

/** Slope of −ln prior, which is quadratic but for the bend of the straight coordinates, by its differences at the middle. */
function quadraticPrior(
  { prior }: JointDensity,
  { d, place }: Frame,
): (u: Float64Array, out: Float64Array) => void {
  const u = new Float64Array(d);
  const middle = -(prior(place(u)) ?? 0);
  const at = (i: number, by: number, j = i, other = 0): number => {
    u.fill(0);
    u[i]! += by;
    u[j]! += other;
    return -(prior(place(u)) ?? -middle);
  };
  const h = PRIOR_STEP;
  const gradient = Float64Array.from({ length: d }, (_, i) => (at(i, h) - at(i, -h)) / (2 * h));
  const hessian = new Float64Array(d * d);
  for (let i = 0; i < d; i++) {
    for (let j = 0; j <= i; j++) {
      const bend =
        i === j
          ? (at(i, h) + at(i, -h) - 2 * middle) / h ** 2
          : (at(i, h, j, h) - at(i, h, j, -h) - at(i, -h, j, h) + at(i, -h, j, -h)) / (4 * h ** 2);
      hessian[i * d + j] = bend;
      hessian[j * d + i] = bend;
    }
  }
  return (where, out) => {
    for (let i = 0; i < d; i++) {
      let sum = gradient[i]!;
      for (let j = 0; j < d; j++) sum += hessian[i * d + j]! * where[j]!;
      out[i] = sum;
    }
  };
}
