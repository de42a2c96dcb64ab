import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
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
  /** Covariance of the measuring errors, the analyser's at its limits. */
  readonly covariance: Matrix;
  /** The part of it that is the analyser's scatter and may be less than its limits; zero for a sieve. */
  readonly scatter: Matrix;
}

/** Levels of Q at which a measured curve is compared: dense enough for its shape, few enough to be cheap. */
const LEVELS = [0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.98] as const;
/** Rounding and counting noise of one laser class, as a share of the whole (`assumed`). */
const LASER_SHARE = 0.003;
/** Local errors of a laser curve's shape (inversion, dispersion), relative size (`assumed`), and how far in ln x they reach. */
const LASER_LOCAL = 0.01;
const LOCAL_LENGTH = 0.7;
/** Distance in ln x over which a model's own errors go together (`assumed`: a factor of two in size). */
export const CORRELATION_LENGTH = 0.7;
const DOUBLED_BELOW = 10e-6;
/** Slope of the tail where a residue stands alone: dR/d ln x = −4 R(1−R) (`assumed`, of a log-normal of ordinary width). */
const LONE_SLOPE = 4;

/**
 * What of a sample is compared, and how its errors are correlated (eq. K2). A laser curve errs in size as a whole (3 %), by a tilt that
 * brings x10 and x90 to 5 %, once more below 10 µm so that the error there is doubled (ISO 13320 repeatability), and a little
 * on its own at each size; a sieve errs in each opening (3 %). Errors of share (counting, weighing) are each point's own.
 * What is common to a curve does not average out over its points: a hundred classes are not a hundred independent facts.
 *
 * @param repeats number of repeats the sample is a mean of; errors fall with their root
 * @param slopes |dQ/d ln x| at the compared sizes where known better than from the measured points
 */
export function comparedCurve(
  sample: MeasuredSample,
  repeats: number,
  errors: MeasurementErrors,
  slopes?: readonly number[],
): ComparedCurve {
  const chosen = chosenPoints(sample);
  const curve = slopes && chosen.space === 'share' ? { ...chosen, slopes } : chosen;
  const size = sample.method === 'sieve' ? sieveErrors(curve, errors) : laserErrors(curve, errors);
  const counted = sample.method === 'sieve' ? errors.sieve.share : LASER_SHARE;
  const n = curve.at.length;
  const covariance = Matrix.zeros(n, n);
  const scatter = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const share = i !== j ? 0 : curve.space === 'share' ? counted ** 2 : OWN_SIZE ** 2;
      const own = (curve.slopes[i]! * curve.slopes[j]! * size(i, j)) / repeats;
      covariance.set(i, j, own + share / repeats);
      if (sample.method !== 'sieve') scatter.set(i, j, own);
    }
  }
  return { ...curve, covariance, scatter };
}

/** Rounding of a printed percentile, relative size (`assumed`). */
const OWN_SIZE = 0.003;

type Chosen = Omit<ComparedCurve, 'covariance' | 'scatter'>;
/** Covariance of relative errors of size of two points. */
type SizeErrors = (i: number, j: number) => number;

function sieveErrors(_: Chosen, { sieve }: MeasurementErrors): SizeErrors {
  return (i, j) => (i === j ? sieve.opening ** 2 : 0);
}

function laserErrors(curve: Chosen, { laser }: MeasurementErrors): SizeErrors {
  const shares = curve.space === 'share' ? curve.measured : curve.at;
  const tail = Math.sqrt(Math.max(0, laser.tails ** 2 - laser.median ** 2));
  const tilt = shares.map((share) => tail * Math.max(-1, Math.min(1, (share - 0.5) / 0.4)));
  const fine = curve.positions.map((position, i) =>
    Math.exp(position) < DOUBLED_BELOW ? Math.sqrt(3) * Math.hypot(laser.median, tilt[i]!) : 0,
  );
  return (i, j) =>
    laser.median ** 2 +
    tilt[i]! * tilt[j]! +
    fine[i]! * fine[j]! +
    LASER_LOCAL ** 2 * Math.exp(-Math.abs(curve.positions[i]! - curve.positions[j]!) / LOCAL_LENGTH);
}

/** A number read off one measured curve: a share finer at a size, or the size at a share. */
export interface CurveReading {
  readonly of: 'share' | 'size';
  /** [m] */
  readonly size: number;
  /** Q, 0…1. */
  readonly share: number;
}

/**
 * Covariance of the measuring errors of numbers read off one curve, by the same errors a fit weighs it with: Q of a share,
 * relative of a size (eq. K2).
 *
 * @param readings each with the size and the share it stands at on the curve
 */
export function readingErrors(
  sample: MeasuredSample,
  repeats: number,
  errors: MeasurementErrors,
  readings: readonly CurveReading[],
): Matrix {
  const slopes = readings.map((reading) => slopeAt(sample, reading));
  const curve: Chosen = {
    at: readings.map(({ size }) => size),
    measured: readings.map(({ share }) => share),
    space: 'share',
    slopes,
    positions: readings.map(({ size }) => Math.log(size)),
  };
  const size = sample.method === 'sieve' ? sieveErrors(curve, errors) : laserErrors(curve, errors);
  const counted = sample.method === 'sieve' ? errors.sieve.share : LASER_SHARE;
  // sizes read too large make the share below a given size too small
  const ofSize = readings.map(({ of }, i) => (of === 'size' ? 1 : -slopes[i]!));
  const own = readings.map(({ of }, i) => {
    if (of === 'share') return counted;
    return sample.kind === 'percentiles' ? OWN_SIZE : counted / slopes[i]!;
  });
  const matrix = Matrix.zeros(readings.length, readings.length);
  for (let i = 0; i < readings.length; i++)
    for (let j = 0; j < readings.length; j++)
      matrix.set(i, j, (ofSize[i]! * ofSize[j]! * size(i, j) + (i === j ? own[i]! ** 2 : 0)) / repeats);
  return matrix;
}

/** Least slope of a curve by ln x: where it lies flat, an error of size says nothing of the share. */
const FLATTEST = 1e-4;

/** dQ/d ln x between the measured points about a size. */
function slopeAt({ points }: MeasuredSample, { size, share }: CurveReading): number {
  if (points.length <= 2) return Math.max(LONE_SLOPE * share * (1 - share), FLATTEST);
  const above = points.findIndex((point) => point.size >= size * (1 - 1e-9));
  const high = above < 1 ? (above < 0 ? points.length - 1 : 1) : above;
  const [before, after] = [points[high - 1]!, points[high]!];
  return Math.max((after.undersize - before.undersize) / Math.log(after.size / before.size), FLATTEST);
}

/** exp(−(Δ/ℓ)²/2): a model's errors at neighbouring sizes go together. */
export function correlation(distance: number): number {
  return Math.exp(-0.5 * (distance / CORRELATION_LENGTH) ** 2);
}

function chosenPoints(sample: MeasuredSample): Chosen {
  if (sample.kind === 'percentiles') return percentilePoints(sample);
  const { points } = sample;
  const lone = points.length <= 2;
  const kept = lone || points.length <= LEVELS.length ? points.filter(inside) : atLevels(points);
  const used = kept.length > 0 ? kept : [points[points.length - 1]!];
  const slopes = used.map((point) => {
    if (lone) return Math.max(LONE_SLOPE * point.undersize * (1 - point.undersize), FLATTEST);
    const i = points.indexOf(point);
    const low = points[Math.max(0, i - 1)]!;
    const high = points[Math.min(points.length - 1, i + 1)]!;
    return Math.max((high.undersize - low.undersize) / Math.log(high.size / low.size), FLATTEST);
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

/** Covariance of a model's own error of size, smooth along ln x, at relative size 1. */
export function modelErrors({ slopes, positions }: ComparedCurve): Matrix {
  const n = slopes.length;
  const errors = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++)
      errors.set(i, j, slopes[i]! * slopes[j]! * correlation(positions[i]! - positions[j]!));
  }
  return errors;
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
