import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { NORMAL_95 } from '../../trials/fit/quantile.ts';
import type { Axis } from './axis.ts';
import { fillFunctions, functionsOf, type Term, termsUpTo } from './basis.ts';
import { type Indices, moments } from './estimate.ts';

/** Rows a fit uses at most, terms at most, and rows it needs for each term. */
const MOST_ROWS = 8000;
const MOST_TERMS = 320;
const ROWS_PER_TERM = 4;
const HIGHEST_DEGREE = 12;

/** Rows kept out of the fit to judge it: every fifth. */
const JUDGED = 5;

/** A polynomial fitted to some rows. */
interface Fit {
  readonly terms: readonly Term[];
  readonly coefficients: Float64Array;
  readonly normal: CholeskyDecomposition;
  /** Mean square it misses on rows kept out. */
  readonly noise: number;
  /** Share of the variance of rows kept out that it does not explain. */
  readonly unexplained: number;
}

interface RegressionResult {
  readonly indices: readonly Indices[];
  /** Share of the variance the polynomial leaves unexplained on rows it did not see. */
  readonly unexplained: number;
}

/**
 * Indices from scattered points (sobol, latin-hypercube, list) by an orthonormal polynomial fitted to them: the
 * variance of a sum of orthonormal terms is the sum of its squared coefficients (published: Sudret, Reliab. Eng. Syst.
 * Saf. 93 (2008) 964). The degree is the one that best predicts rows kept out of the fit; what it leaves unexplained
 * there could belong to any factor and is added to the upper bounds.
 *
 * @param x column of each factor; y without NaN
 * @returns undefined where there are too few rows even for straight lines
 */
export function regressionIndices(
  axes: readonly Axis[],
  x: readonly Float64Array[],
  y: Float64Array,
): RegressionResult | undefined {
  const step = Math.max(1, Math.ceil(y.length / MOST_ROWS));
  const rows = Array.from({ length: Math.floor(y.length / step) }, (_, k) => k * step);
  const most = Math.min(MOST_TERMS, Math.floor((rows.length * (1 - 1 / JUDGED)) / ROWS_PER_TERM));
  let best: Fit | undefined;
  for (let degree = 1; degree <= HIGHEST_DEGREE; degree++) {
    const terms = termsUpTo(axes, degree, most);
    if (terms === undefined) break;
    const fit = fitTerms(axes, terms, degree, x, y, rows);
    if (best === undefined || fit.unexplained < best.unexplained) best = fit;
  }
  if (best === undefined) return undefined;
  const variances = variancesOf(best);
  return { indices: axes.map((_, i) => indicesFrom(best, variances, i)), unexplained: best.unexplained };
}

function fitTerms(
  axes: readonly Axis[],
  terms: readonly Term[],
  degree: number,
  x: readonly Float64Array[],
  y: Float64Array,
  rows: readonly number[],
): Fit {
  const fill = rowFiller(axes, terms, degree, x);
  const p = terms.length;
  const gram = new Float64Array(p * p);
  const right = new Float64Array(p);
  const row = new Float64Array(p);
  const fitted = rows.filter((_, k) => k % JUDGED !== 0);
  for (const r of fitted) {
    fill(r, row);
    addOuter(gram, right, row, y[r]!);
  }
  const normal = factorised(gram, p);
  const coefficients = Float64Array.from(normal.solve(Matrix.columnVector(right)).to1DArray());
  const predict = (r: number): number => {
    fill(r, row);
    let sum = 0;
    for (let a = 0; a < p; a++) sum += coefficients[a]! * row[a]!;
    return sum;
  };
  const judged = rows.filter((_, k) => k % JUDGED === 0);
  let missed = 0;
  for (const r of judged) missed += (y[r]! - predict(r)) ** 2;
  const { variance } = moments(Float64Array.from(judged, (r) => y[r]!));
  const noise = missed / judged.length;
  return {
    terms,
    coefficients,
    normal,
    noise,
    unexplained: variance > 0 ? Math.min(1, noise / variance) : 0,
  };
}

/** Adds one row to the upper half of the normal equations. */
function addOuter(gram: Float64Array, right: Float64Array, row: Float64Array, y: number): void {
  const p = row.length;
  for (let a = 0; a < p; a++) {
    const value = row[a]!;
    right[a]! += value * y;
    for (let b = a, at = a * p + a; b < p; b++, at++) gram[at]! += value * row[b]!;
  }
}

/** Weight of a ridge that keeps the equations solvable where rows are missing from a corner. */
const RIDGE = 1e-10;

/** Cholesky factors of the normal equations, from their upper half. */
function factorised(gram: Float64Array, p: number): CholeskyDecomposition {
  const full = Matrix.zeros(p, p);
  for (let a = 0; a < p; a++) {
    for (let b = a; b < p; b++) {
      full.set(a, b, gram[a * p + b]!);
      full.set(b, a, gram[a * p + b]!);
    }
    full.set(a, a, gram[a * p + a]! * (1 + RIDGE) + Number.MIN_VALUE);
  }
  return new CholeskyDecomposition(full);
}

/** Variance of each coefficient: the noise times the inverse of the normal equations. */
function variancesOf({ terms, normal, noise }: Fit): Float64Array {
  const inverse = normal.solve(Matrix.eye(terms.length, terms.length));
  return Float64Array.from(inverse.diagonal(), (value) => value * noise);
}

/** Writes the values of all terms at a row of the table. */
function rowFiller(
  axes: readonly Axis[],
  terms: readonly Term[],
  degree: number,
  x: readonly Float64Array[],
): (row: number, out: Float64Array) => void {
  const functions = axes.map((axis) => new Float64Array(functionsOf(axis, degree) + 1));
  return (row, out) => {
    axes.forEach((axis, j) => {
      fillFunctions(axis, x[j]![row]!, functions[j]!);
    });
    for (let a = 0; a < terms.length; a++) {
      const term = terms[a]!;
      let product = 1;
      for (let j = 0; j < term.length; j++) product *= functions[j]![term[j]!]!;
      out[a] = product;
    }
  };
}

function indicesFrom(fit: Fit, variances: Float64Array, factor: number): Indices {
  const { terms, coefficients, unexplained } = fit;
  let explained = 0;
  let alone = 0;
  let any = 0;
  let aloneError = 0;
  let anyError = 0;
  terms.forEach((term, a) => {
    if (a === 0) return;
    // a coefficient of pure noise has a square, too: what is expected of it is taken off
    const square = Math.max(0, coefficients[a]! ** 2 - variances[a]!);
    explained += square;
    if (term[factor] === 0) return;
    const error = 4 * coefficients[a]! ** 2 * variances[a]! + 2 * variances[a]! ** 2;
    any += square;
    anyError += error;
    if (term.every((k, j) => j === factor || k === 0)) {
      alone += square;
      aloneError += error;
    }
  });
  const variance = explained / Math.max(1 - unexplained, Number.EPSILON);
  const bound = (part: number, error: number) => {
    const value = variance > 0 ? part / variance : 0;
    const spread = variance > 0 ? (NORMAL_95 * Math.sqrt(error)) / variance : 0;
    const low = Math.max(0, value - spread - unexplained * value);
    return { value, low, high: Math.min(1, value + spread + unexplained) };
  };
  return { first: bound(alone, aloneError), total: bound(any, anyError) };
}
