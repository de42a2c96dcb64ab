import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { MeasuredSample } from '../read/sample.ts';
import type { MeasurementErrors } from '../trial.ts';

/** Points of one curve to be compared, with the covariance of their errors. */
export interface ComparedCurve {
  /** Where the curve is compared: sizes [m] for curves and residues, shares for percentiles. */
  readonly at: readonly number[];
  /** Measured Q, or ln x. */
  readonly measured: readonly number[];
  readonly space: 'share' | 'log-size';
  /** |dQ/d ln x| (1 in log-size space): turns an error of size into one of the compared value. */
  readonly slopes: readonly number[];
  /** Places along ln x, for the reach of correlated errors. */
  readonly positions: readonly number[];
  readonly covariance: Matrix;
}

/** Levels of Q at which a measured curve is compared: dense enough for its shape, few enough to be cheap. */
const LEVELS = [0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.98] as const;
/** Rounding and counting noise of one laser class, as a share of the whole (`assumed`). */
const LASER_SHARE = 0.003;
/** Distance in ln x over which a laser's errors of size fade apart, exp(−|Δ|/ℓ) (`assumed`). */
const LASER_LENGTH = 1.5;
/** Distance in ln x over which a model's own errors go together (`assumed`: a factor of two in size). */
export const CORRELATION_LENGTH = 0.7;
const DOUBLED_BELOW = 10e-6;
/** Slope of the tail where a residue stands alone: dR/d ln x = −4 R(1−R) (`assumed`, of a log-normal of ordinary width). */
const LONE_SLOPE = 4;

/**
 * What of a sample is compared, and how its errors go together: errors of size (instrument, dispersion, sampling) are smooth
 * along the curve, errors of share (counting, weighing) are each point's own. Treating a hundred classes as a hundred
 * independent facts would claim far too much.
 *
 * @param repeats number of repeats the sample is a mean of; sampling errors fall with their root
 */
export function comparedCurve(
  sample: MeasuredSample,
  repeats: number,
  errors: MeasurementErrors,
): ComparedCurve {
  const { at, measured, space, slopes, positions } = chosenPoints(sample);
  const n = at.length;
  const sieve = sample.method === 'sieve';
  const covariance = Matrix.zeros(n, n);
  const sizeError = positions.map((position, i) =>
    sieve
      ? errors.sieve.opening
      : laserError(errors, Math.exp(position), space === 'share' ? measured[i]! : at[i]!),
  );
  const own = sieve ? errors.sieve.share : LASER_SHARE;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const together = sieve
        ? i === j
          ? 1
          : 0
        : Math.exp(-Math.abs(positions[i]! - positions[j]!) / LASER_LENGTH);
      const size = slopes[i]! * slopes[j]! * sizeError[i]! * sizeError[j]! * together;
      const share = i === j && space === 'share' ? own ** 2 : i === j ? 1e-6 : 0;
      covariance.set(i, j, (size + share) / repeats);
    }
  }
  return { at, measured, space, slopes, positions, covariance };
}

/** exp(−(Δ/ℓ)²/2): a model's errors at neighbouring sizes go together. */
export function correlation(distance: number): number {
  return Math.exp(-0.5 * (distance / CORRELATION_LENGTH) ** 2);
}

function laserError({ laser }: MeasurementErrors, size: number, share: number): number {
  const away = Math.min(1, Math.abs(share - 0.5) / 0.4);
  const error = laser.median + (laser.tails - laser.median) * away;
  return size < DOUBLED_BELOW ? 2 * error : error;
}

type Chosen = Omit<ComparedCurve, 'covariance'>;

function chosenPoints(sample: MeasuredSample): Chosen {
  if (sample.kind === 'percentiles') return percentilePoints(sample);
  const { points } = sample;
  const lone = points.length <= 2;
  const kept = lone || points.length <= LEVELS.length ? points.filter(inside) : atLevels(points);
  const used = kept.length > 0 ? kept : [points[points.length - 1]!];
  const slopes = used.map((point) => {
    if (lone) return Math.max(LONE_SLOPE * point.undersize * (1 - point.undersize), 1e-4);
    const i = points.indexOf(point);
    const low = points[Math.max(0, i - 1)]!;
    const high = points[Math.min(points.length - 1, i + 1)]!;
    return Math.max((high.undersize - low.undersize) / Math.log(high.size / low.size), 1e-4);
  });
  return {
    at: used.map(({ size }) => size),
    measured: used.map(({ undersize }) => undersize),
    space: 'share',
    slopes,
    positions: used.map(({ size }) => Math.log(size)),
  };
}

const inside = ({ undersize }: { undersize: number }): boolean => undersize > 0.002 && undersize < 0.9995;

/** The measured point nearest each level. */
function atLevels(points: MeasuredSample['points']): MeasuredSample['points'] {
  const nearest = LEVELS.map((level) =>
    points.reduce((a, b) => (Math.abs(b.undersize - level) < Math.abs(a.undersize - level) ? b : a)),
  );
  return [...new Set(nearest)].filter(inside);
}

function percentilePoints({ points }: MeasuredSample): Chosen {
  const positions = points.map(({ size }) => Math.log(size));
  return {
    at: points.map(({ undersize }) => undersize),
    measured: positions,
    space: 'log-size',
    slopes: points.map(() => 1),
    positions,
  };
}

/** Covariance with a model's own error of size added: smooth along ln x, relative size `discrepancy`. */
export function widened(curve: ComparedCurve, discrepancy: number): Matrix {
  const { covariance, slopes, positions } = curve;
  const wide = covariance.clone();
  for (let i = 0; i < slopes.length; i++) {
    for (let j = 0; j < slopes.length; j++) {
      const together = correlation(positions[i]! - positions[j]!);
      wide.set(i, j, wide.get(i, j) + slopes[i]! * slopes[j]! * discrepancy ** 2 * together);
    }
  }
  return wide;
}

/** Lower-triangular L with C = L Lᵀ. */
export function cholesky(matrix: Matrix): Matrix {
  // products in another order differ in the last digit; the decomposition insists on symmetry to the bit
  const even = Matrix.add(matrix, matrix.transpose()).mul(0.5);
  const decomposition = new CholeskyDecomposition(even);
  if (!decomposition.isPositiveDefinite())
    throw new Error('a covariance of measurement errors is not positive definite');
  return decomposition.lowerTriangularMatrix;
}

/** L⁻¹ v by forward substitution, into `out` from `offset`. */
export function whiten(lower: Matrix, values: ArrayLike<number>, out: Float64Array, offset: number): void {
  for (let i = 0; i < values.length; i++) {
    let sum = values[i]!;
    for (let j = 0; j < i; j++) sum -= lower.get(i, j) * out[offset + j]!;
    out[offset + i] = sum / lower.get(i, i);
  }
}
