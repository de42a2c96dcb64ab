/** Standard deviations to either side of the mean of a normal distribution that hold 95 %, and 90 %, of it. */
export const NORMAL_95 = 1.959963985;
export const NORMAL_90 = 1.644853627;

/** A quantity's median and the interval that holds a share of the draws. */
export interface Band {
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** Equal-tailed interval of values; those that do not exist are left out. */
export function bandOf(values: readonly number[], confidence = 0.95): Band {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  return {
    low: quantile(sorted, (1 - confidence) / 2),
    median: quantile(sorted, 0.5),
    high: quantile(sorted, (1 + confidence) / 2),
  };
}

/** Quantile of sorted values, linear between them. */
export function quantile(sorted: readonly number[], share: number): number {
  if (sorted.length === 0) return Number.NaN;
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!);
}
