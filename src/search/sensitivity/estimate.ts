import { NORMAL_95 } from '../../trials/fit/quantile.ts';

/** An estimate with the bounds it lies in at 95 % confidence. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Share of the variance a factor accounts for. */
export interface Indices {
  /** Alone, averaged over the others: Var(E[y|x_i])/Var y. */
  readonly first: Estimate;
  /** With every interaction it takes part in: E[Var(y|x_~i)]/Var y. */
  readonly total: Estimate;
}

/** Bounds of an estimate from its standard error, kept within what a share of variance can be. */
export function withError(value: number, error: number): Estimate {
  const spread = NORMAL_95 * error;
  return { value, low: Math.max(0, value - spread), high: Math.min(1, value + spread) };
}

/**
 * Mean and variance (divisor n) of some values.
 *
 * @example moments(Float64Array.of(1, 3)) // { mean: 2, variance: 1 }
 */
export function moments(values: Float64Array): { readonly mean: number; readonly variance: number } {
  let mean = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    const step = values[i]! - mean;
    mean += step / (i + 1);
    sum += step * (values[i]! - mean);
  }
  return { mean, variance: values.length > 0 ? sum / values.length : Number.NaN };
}
