import type { Evaluated, JointDensity } from './density.ts';
import { flatCholesky, forwardSolve } from './flat-cholesky.ts';

/** A quadratic response surface of all residuals: cheap enough to be asked a hundred times for every solve of the model. */
export type Surrogate = (coordinates: readonly number[]) => Evaluated | undefined;

/** Points a term needs at least, so that the surface follows the model and not the choice of points. */
const POINTS_PER_TERM = 4;
/** Least weight of a point far down the slopes: the surface is to be good where the posterior lies. */
const DEPTH = 12;
const RIDGE = 1e-6;

/**
 * Least squares of every residual on 1, u and u_i u_j, u the coefficients in coordinates in which they are standard
 * (`derived`; Box & Wilson's response surface). It stands for the model in proposals only, which the model itself then
 * accepts or not.
 *
 * @param seen points the model was solved at, with their ln density
 * @param mean, lower middle and Cholesky factor of the standard coordinates
 * @param within places of the walkers: beyond the farthest of them the surface is not asked, since a quadratic may turn there
 * @returns undefined where there are too few points for so many coefficients
 */
export function surrogateOf(
  density: JointDensity,
  seen: readonly { readonly point: Evaluated; readonly density: number }[],
  mean: Float64Array,
  lower: Float64Array,
  within: readonly { readonly point: Evaluated }[],
): Surrogate | undefined {
  const d = mean.length;
  const terms = 1 + d + (d * (d + 1)) / 2;
  const best = seen.reduce((most, one) => Math.max(most, one.density), Number.NEGATIVE_INFINITY);
  const used = seen.filter((one) => best - one.density < DEPTH * (2 + d / 4));
  if (used.length < POINTS_PER_TERM * terms) return undefined;
  const { sizes, powers } = density.errors;
  const rows = sizes + powers;
  const features = featuresOf(mean, lower);
  const phi = new Float64Array(terms);
  const square = new Float64Array(terms * terms);
  const right = new Float64Array(rows * terms);
  for (const { point, density: value } of used) {
    features(point.coordinates, phi);
    const weight = 1 / (1 + (best - value) / DEPTH);
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
  const reach = reachOf(within, features, d, phi);
  const weights = solved(flatCholesky(square, terms), terms, right, rows);
  return (coordinates) => {
    const prior = density.prior(coordinates);
    if (prior === undefined) return undefined;
    features(coordinates, phi);
    if (squareOf(phi, d) > reach) return undefined;
    const at = (row: number): number => {
      let sum = 0;
      const from = row * terms;
      for (let i = 0; i < terms; i++) sum += weights[from + i]! * phi[i]!;
      return sum;
    };
    const residuals = { sizes: new Float64Array(sizes), powers: new Float64Array(powers) };
    for (let r = 0; r < sizes; r++) residuals.sizes[r] = at(r);
    for (let r = 0; r < powers; r++) residuals.powers[r] = at(sizes + r);
    return { coordinates, residuals, prior };
  };
}

/** Share of the walkers' places that the surface reaches over. */
const REACHED = 0.99;

function reachOf(
  within: readonly { readonly point: Evaluated }[],
  features: ReturnType<typeof featuresOf>,
  d: number,
  phi: Float64Array,
): number {
  const squares = within.map(({ point }) => {
    features(point.coordinates, phi);
    return squareOf(phi, d);
  });
  squares.sort((a, b) => a - b);
  return squares[Math.floor(REACHED * (squares.length - 1))]!;
}

/** |u|², from the linear features. */
function squareOf(phi: Float64Array, d: number): number {
  let sum = 0;
  for (let i = 1; i <= d; i++) sum += phi[i]! * phi[i]!;
  return sum;
}

function featuresOf(mean: Float64Array, lower: Float64Array) {
  const d = mean.length;
  const away = new Float64Array(d);
  const u = new Float64Array(d);
  return (coordinates: readonly number[], out: Float64Array): void => {
    for (let i = 0; i < d; i++) away[i] = coordinates[i]! - mean[i]!;
    forwardSolve(lower, d, away, u);
    out[0] = 1;
    let at = 1;
    for (let i = 0; i < d; i++) out[at++] = u[i]!;
    for (let i = 0; i < d; i++) for (let j = 0; j <= i; j++) out[at++] = u[i]! * u[j]!;
  };
}

/** (L Lᵀ)⁻¹ of every row of a right side. */
function solved(lower: Float64Array, n: number, right: Float64Array, rows: number): Float64Array {
  const out = new Float64Array(rows * n);
  const half = new Float64Array(n);
  for (let r = 0; r < rows; r++) {
    forwardSolve(lower, n, right.subarray(r * n, (r + 1) * n), half);
    for (let i = n - 1; i >= 0; i--) {
      let sum = half[i]!;
      for (let j = i + 1; j < n; j++) sum -= lower[j * n + i]! * out[r * n + j]!;
      out[r * n + i] = sum / lower[i * n + i]!;
    }
  }
  return out;
}
