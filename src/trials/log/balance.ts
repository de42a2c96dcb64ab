import { reconcile } from '../reconcile.ts';

/** Masses of one run [kg]. */
export interface Masses {
  readonly feed: number;
  readonly product: number;
  readonly filter: number;
  /** Feed rate times duration, where both are known. */
  readonly metered?: number;
}

/** Relative standard errors of the masses. */
export interface WeighingErrors {
  readonly feed: number;
  readonly product: number;
  readonly filter: number;
  readonly metered: number;
}

/** `assumed` unless the log states them: scales, what stays in ducts and bags, and a feeder's set rate. */
export const WEIGHING_ERRORS: WeighingErrors = { feed: 0.01, product: 0.02, filter: 0.1, metered: 0.05 };

/** Whether what went in came out. */
export interface Closure {
  /** (product + filter)/feed − 1. */
  readonly gap: number;
  /** Filter share of what was collected. */
  readonly filterShare: number;
  readonly statistic: number;
  readonly freedom: number;
  /** Chance of a gap this large by the stated errors alone. */
  readonly probability: number;
  readonly closes: boolean;
  /** Masses made to agree [kg]: feed, product, filter. */
  readonly reconciled: readonly number[];
  /** The mass whose adjustment is largest in standard errors, where the run does not close. */
  readonly suspect?: string;
}

const LIMIT = 0.05;
const NAMES = ['feed', 'product', 'filter', 'feed rate times duration'] as const;

/**
 * Mass balance of a run: feed = product + filter, and feed = rate · duration where both are known, reconciled by least
 * adjustment; a run with a chance below 5 % is flagged, not left out.
 */
export function closureOf(masses: Masses, errors: WeighingErrors = WEIGHING_ERRORS): Closure {
  const { feed, product, filter, metered } = masses;
  const least = 1e-3 * feed;
  const variance = (mass: number, error: number): number => Math.max(mass * error, least) ** 2;
  const measured = [feed, product, filter];
  const variances = [
    variance(feed, errors.feed),
    variance(product, errors.product),
    variance(filter, errors.filter),
  ];
  const balances = [[1, -1, -1]];
  if (metered !== undefined) {
    measured.push(metered);
    variances.push(variance(metered, errors.metered));
    balances[0]!.push(0);
    balances.push([1, 0, 0, -1]);
  }
  const { values, statistic, freedom, probability, standardised } = reconcile(measured, variances, balances);
  const closes = probability >= LIMIT;
  const largest = Math.max(...standardised.map(Math.abs));
  // one balance alone suspects all of its masses alike
  const suspects = NAMES.filter((_, i) => Math.abs(standardised[i] ?? 0) > largest * (1 - 1e-6));
  return {
    gap: (product + filter) / feed - 1,
    filterShare: filter > 0 ? filter / (product + filter) : 0,
    statistic,
    freedom,
    probability,
    closes,
    reconciled: values.slice(0, 3),
    ...(closes ? {} : { suspect: suspects.join(' or ') }),
  };
}
