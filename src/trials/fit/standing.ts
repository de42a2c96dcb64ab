import type { Matrix } from 'ml-matrix';
import type { Posterior } from './fit.ts';

/** What the trials settled of one coefficient. */
export interface Standing {
  readonly path: string;
  readonly symbol: string;
  /** SI unit. */
  readonly unit: string;
  readonly prior: number;
  readonly value: number;
  /** Standard error of the logarithm before and after the trials. */
  readonly before: number;
  readonly after: number;
  /** Settled: the trials took at least half of its prior spread. Weak: some. Held: nearly nothing, the prior stands. */
  readonly state: 'settled' | 'weak' | 'held';
  /** Whether it ended at an end of its allowed range. */
  readonly atBound: boolean;
}

const SETTLED = 0.5;
const HELD = 0.9;
const STRONG = 0.9;

/** Every coefficient with what the trials left of its spread. */
export function standingsOf(posterior: Posterior): Standing[] {
  const { prior, mean, covariance } = posterior;
  return prior.coefficients.map((one, i) => {
    const after = Math.sqrt(covariance.get(i, i));
    const left = after / one.spread;
    const value = Math.exp(mean[i]!);
    return {
      path: one.path,
      symbol: one.symbol,
      unit: one.unit,
      prior: one.prior,
      value,
      before: one.spread,
      after,
      state: left < SETTLED ? 'settled' : left < HELD ? 'weak' : 'held',
      atBound: value <= one.lower * (1 + 1e-9) || value >= one.upper * (1 - 1e-9),
    };
  });
}

/** Correlation matrix of the logarithms. */
export function correlationsOf(covariance: Matrix): number[][] {
  const n = covariance.rows;
  return Array.from({ length: n }, (_, i) =>
    Array.from(
      { length: n },
      (_, j) => covariance.get(i, j) / Math.sqrt(covariance.get(i, i) * covariance.get(j, j)),
    ),
  );
}

/** Pairs that the trials cannot tell apart: only a combination of them is known. */
export function boundPairs(posterior: Posterior): readonly (readonly [string, string, number])[] {
  const r = correlationsOf(posterior.covariance);
  const { coefficients } = posterior.prior;
  const pairs: [string, string, number][] = [];
  for (let i = 0; i < r.length; i++)
    for (let j = 0; j < i; j++)
      if (Math.abs(r[i]![j]!) > STRONG)
        pairs.push([coefficients[j]!.symbol, coefficients[i]!.symbol, r[i]![j]!]);
  return pairs;
}

/** Effective number of combinations the trials carry: Σ (1 − σ²_after/σ²_before) along the prior's own axes, tr(1 − C C_0⁻¹). */
export function combinationsKnown({ prior, covariance }: Posterior, inverse: (m: Matrix) => Matrix): number {
  const left = covariance.mmul(inverse(prior.covariance));
  return covariance.rows - left.trace();
}
