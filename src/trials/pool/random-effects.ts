/** An estimate with its variance. */
export interface Estimate {
  readonly value: number;
  readonly variance: number;
}

/** What several estimates of numbers that differ a little say together. */
export interface RandomEffects {
  /** Mean of what the numbers scatter about, and its variance. */
  readonly value: number;
  readonly variance: number;
  /** Variance from one number to the next, τ²; 0 where the estimates scatter no more than their errors. */
  readonly between: number;
}

/**
 * Random effects by the method of moments (`recalled`: DerSimonian & Laird, Control. Clin. Trials 7 (1986) 177). With w = 1/v
 * and μ the weighted mean, Q = Σ w (y − μ)², τ² = max(0, (Q − (k − 1))/(Σw − Σw²/Σw)); the mean is then weighed by 1/(v + τ²)
 * and its variance is 1/Σ 1/(v + τ²).
 *
 * @param estimates y with v, one or more
 * @example randomEffects([{ value: 0, variance: 0.1 }, { value: 1, variance: 0.1 }]) // { value: 0.5, variance: 0.25, between: 0.4 }
 */
export function randomEffects(estimates: readonly Estimate[]): RandomEffects {
  const plain = weightedMean(estimates, 0);
  const q = sum(estimates.map(({ value, variance }) => (value - plain.value) ** 2 / variance));
  const weights = estimates.map(({ variance }) => 1 / variance);
  const whole = sum(weights);
  const spare = whole - sum(weights.map((weight) => weight ** 2)) / whole;
  const between = estimates.length > 1 ? Math.max(0, (q - (estimates.length - 1)) / spare) : 0;
  return { ...weightedMean(estimates, between), between };
}

function weightedMean(estimates: readonly Estimate[], between: number): Estimate {
  const weights = estimates.map(({ variance }) => 1 / (variance + between));
  const whole = sum(weights);
  return {
    value: sum(estimates.map(({ value }, i) => value * weights[i]!)) / whole,
    variance: 1 / whole,
  };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
