import { Matrix, solve } from 'ml-matrix';
import { chiSquareTail } from './chi-square.ts';

/** Measured flows or masses made to obey their balances. */
export interface Reconciled {
  readonly values: readonly number[];
  /** Σ (adjustment/σ)² [-]. */
  readonly statistic: number;
  /** Number of balances. */
  readonly freedom: number;
  /** Chance of a statistic this large where only the stated errors act. */
  readonly probability: number;
  /** Adjustment of each value over the standard deviation of that adjustment; beyond ±2 it is suspect. */
  readonly standardised: readonly number[];
}

/**
 * Least adjustment of measured values that closes linear balances A x = 0, weighted by their variances:
 * x = m − V Aᵀ (A V Aᵀ)⁻¹ A m, statistic (A m)ᵀ (A V Aᵀ)⁻¹ A m ~ χ² (`derived`).
 *
 * @param measured values m, any one unit
 * @param variances of each value, > 0, unit squared
 * @param balances rows of A
 * @example reconcile([100, 61, 36], [4, 1, 1], [[1, -1, -1]]).values // [98, 61.5, 36.5]
 */
export function reconcile(
  measured: readonly number[],
  variances: readonly number[],
  balances: readonly (readonly number[])[],
): Reconciled {
  const a = new Matrix(balances.map((row) => [...row]));
  const m = Matrix.columnVector([...measured]);
  const va = Matrix.diag([...variances]).mmul(a.transpose());
  const gap = a.mmul(m);
  const spread = a.mmul(va);
  const weighed = solve(spread, gap);
  const adjustment = va.mmul(weighed);
  const statistic = gap.transpose().mmul(weighed).get(0, 0);
  const covariance = va.mmul(solve(spread, va.transpose()));
  return {
    values: measured.map((value, i) => value - adjustment.get(i, 0)),
    statistic,
    freedom: balances.length,
    probability: chiSquareTail(statistic, balances.length),
    standardised: measured.map((_, i) => -adjustment.get(i, 0) / Math.sqrt(covariance.get(i, i))),
  };
}
