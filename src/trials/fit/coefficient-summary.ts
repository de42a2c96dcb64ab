import { inverse, type Matrix } from 'ml-matrix';
import { boundsOf, numberAt } from './coefficient.ts';
import type { Posterior } from './fit.ts';
import { bandOf, NORMAL_95 } from './quantile.ts';

/** What the trials settled of one coefficient. */
export interface Standing {
  readonly path: string;
  readonly symbol: string;
  /** SI unit. */
  readonly unit: string;
  readonly prior: number;
  readonly value: number;
  /** Ends of the interval that holds 95 % of what is possible, SI. */
  readonly low: number;
  readonly high: number;
  /** Standard deviation along its scale before and after the trials. */
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
    const [low, high] = intervalOf(posterior, i);
    const after = Math.sqrt(covariance.get(i, i));
    const left = after / one.spread;
    const value = numberAt(one, mean[i]!);
    return {
      path: one.path,
      symbol: one.symbol,
      unit: one.unit,
      prior: one.prior,
      value,
      low,
      high,
      before: one.spread,
      after,
      state: left < SETTLED ? 'settled' : left < HELD ? 'weak' : 'held',
      atBound: boundsOf(one).some((bound) => Math.abs(mean[i]! - bound) < 1e-6),
    };
  });
}

/** Equal-tailed 95 % interval of a coefficient: the quantiles of its draws, ± 1.96 standard errors where there are none. */
export function intervalOf(
  { prior, mean, covariance, draws }: Posterior,
  index: number,
): readonly [low: number, high: number] {
  const coefficient = prior.coefficients[index]!;
  if (draws) {
    const { low, high } = bandOf(draws.map(({ coordinates }) => coordinates[index]!));
    return [numberAt(coefficient, low), numberAt(coefficient, high)];
  }
  const reach = NORMAL_95 * Math.sqrt(covariance.get(index, index));
  return [numberAt(coefficient, mean[index]! - reach), numberAt(coefficient, mean[index]! + reach)];
}

/** Correlation matrix along the scales. */
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

/** Effective number of combinations of coefficients that the trials carry, tr(1 − C C_0⁻¹). */
export function combinationsKnown({ prior, covariance }: Posterior): number {
  return covariance.rows - covariance.mmul(inverse(prior.covariance)).trace();
}

/** Combinations below which trials have settled nothing. */
const NOTHING = 0.5;

/** Whether trials leave every coefficient at its prior: there is nothing to call a calibration. */
export function settlesNothing(posterior: Posterior): boolean {
  return (
    standingsOf(posterior).every(({ state }) => state === 'held') && combinationsKnown(posterior) < NOTHING
  );
}
