import { inverse, Matrix, solve } from 'ml-matrix';

/** A least-squares problem: find θ within bounds that makes Σ r(θ)² least. Priors are residuals (θ − θ_0)/σ. */
export interface LeastSquares {
  /** Residuals over their standard deviations; undefined where the model has no answer. */
  readonly residuals: (parameters: readonly number[]) => Float64Array | undefined;
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  /** Step of the differences, per parameter. */
  readonly steps: readonly number[];
  /** Iterations at most, where a rough answer will do. */
  readonly iterations?: number;
}

export interface Solution {
  readonly parameters: readonly number[];
  readonly residuals: Float64Array;
  /** Σ r². */
  readonly cost: number;
  /** ∂r/∂θ, central differences at the solution, one row a residual. */
  readonly jacobian: Matrix;
  /** (JᵀJ)⁻¹. */
  readonly covariance: Matrix;
  readonly converged: boolean;
  readonly iterations: number;
  /** Which parameters ended at a bound. */
  readonly atBound: readonly boolean[];
}

const MOST_ITERATIONS = 60;
const SMALLEST_STEP = 1e-6;
const LARGEST_DAMPING = 1e8;

/**
 * Levenberg–Marquardt with bounds: a parameter at its bound whose gradient points outward is held there (forms `recalled`:
 * Marquardt 1963; Moré 1978 for the scaling by the diagonal).
 *
 * @param problem residuals, bounds and difference steps
 * @param start θ_0 within the bounds
 * @returns the solution, or undefined where the model has no answer at the start
 */
export function leastSquares(problem: LeastSquares, start: readonly number[]): Solution | undefined {
  let theta = clamp(start, problem);
  let r = problem.residuals(theta);
  if (!r) return undefined;
  let cost = sumOfSquares(r);
  let damping = 1e-3;
  let iterations = 0;
  let converged = false;
  while (iterations < (problem.iterations ?? MOST_ITERATIONS) && !converged && damping < LARGEST_DAMPING) {
    iterations++;
    const jacobian = differences(problem, theta, r, false);
    const free = freeParameters(problem, theta, jacobian, r);
    if (free.length === 0) {
      converged = true;
      break;
    }
    let accepted = false;
    while (!accepted && damping < LARGEST_DAMPING) {
      const step = dampedStep(jacobian, r, free, damping);
      const trial = clamp(
        theta.map((value, i) => value + step[i]!),
        problem,
      );
      const moved = Math.max(...trial.map((value, i) => Math.abs(value - theta[i]!) / problem.steps[i]!));
      const next = problem.residuals(trial);
      const nextCost = next ? sumOfSquares(next) : Number.POSITIVE_INFINITY;
      if (next && nextCost <= cost) {
        accepted = true;
        converged = cost - nextCost < SMALLEST_STEP * (1e-3 + nextCost) * 1e-3 || moved < SMALLEST_STEP;
        theta = trial;
        r = next;
        cost = nextCost;
        damping = Math.max(damping / 10, 1e-9);
      } else {
        if (moved < SMALLEST_STEP) {
          accepted = true;
          converged = true;
        }
        damping *= 8;
      }
    }
  }
  return finish(problem, theta, r, cost, converged || damping >= LARGEST_DAMPING, iterations);
}

function finish(
  problem: LeastSquares,
  theta: readonly number[],
  r: Float64Array,
  cost: number,
  converged: boolean,
  iterations: number,
): Solution {
  const jacobian = differences(problem, theta, r, true);
  const covariance = inverse(jacobian.transpose().mmul(jacobian), true);
  const near = (value: number, bound: number, i: number): boolean =>
    Math.abs(value - bound) < 1e-9 * problem.steps[i]!;
  const atBound = theta.map(
    (value, i) => near(value, problem.lower[i]!, i) || near(value, problem.upper[i]!, i),
  );
  return { parameters: theta, residuals: r, cost, jacobian, covariance, converged, iterations, atBound };
}

function clamp(theta: readonly number[], { lower, upper }: LeastSquares): number[] {
  return theta.map((value, i) => Math.min(upper[i]!, Math.max(lower[i]!, value)));
}

export function sumOfSquares(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]! * values[i]!;
  return sum;
}

/** ∂r/∂θ by differences; one-sided where a side has no answer or lies outside the bounds. */
function differences(
  problem: LeastSquares,
  theta: readonly number[],
  r: Float64Array,
  central: boolean,
): Matrix {
  const jacobian = new Matrix(r.length, theta.length);
  for (let k = 0; k < theta.length; k++) {
    const step = problem.steps[k]!;
    const at = (value: number): Float64Array | undefined => {
      if (value > problem.upper[k]! || value < problem.lower[k]!) return undefined;
      return problem.residuals(theta.map((old, i) => (i === k ? value : old)));
    };
    const above = at(theta[k]! + step);
    const below = central || !above ? at(theta[k]! - step) : undefined;
    if (!above && !below) continue;
    const high = above ?? r;
    const low = below ?? r;
    const width = (above ? step : 0) + (below ? step : 0);
    for (let i = 0; i < r.length; i++) jacobian.set(i, k, (high[i]! - low[i]!) / width);
  }
  return jacobian;
}

function freeParameters(
  { lower, upper }: LeastSquares,
  theta: readonly number[],
  jacobian: Matrix,
  r: Float64Array,
): number[] {
  const free: number[] = [];
  for (let k = 0; k < theta.length; k++) {
    let gradient = 0;
    for (let i = 0; i < r.length; i++) gradient += jacobian.get(i, k) * r[i]!;
    const held = (theta[k]! <= lower[k]! && gradient > 0) || (theta[k]! >= upper[k]! && gradient < 0);
    if (!held) free.push(k);
  }
  return free;
}

/** −(JᵀJ + λ diag JᵀJ)⁻¹ Jᵀr over the free parameters; the others stay. */
function dampedStep(jacobian: Matrix, r: Float64Array, free: readonly number[], damping: number): number[] {
  const j = jacobian.subMatrixColumn([...free]);
  const normal = j.transpose().mmul(j);
  for (let k = 0; k < free.length; k++) normal.set(k, k, normal.get(k, k) * (1 + damping) + 1e-12);
  const gradient = j.transpose().mmul(Matrix.columnVector(Array.from(r)));
  const solved = solve(normal, gradient);
  const step = new Array<number>(jacobian.columns).fill(0);
  free.forEach((k, i) => {
    step[k] = -solved.get(i, 0);
  });
  return step;
}
