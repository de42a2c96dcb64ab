/** One percentile over repeats. */
export interface Scatter {
  /** Q, 0…1. */
  readonly share: number;
  /** Mean size [m]. */
  readonly mean: number;
  /** Standard deviation over mean [-]; divisor n − 1. */
  readonly variation: number;
  /** Largest variation accepted [-]. */
  readonly limit: number;
  readonly accepted: boolean;
}

/** Laser diffraction acceptance (ISO 13320, read in summaries): 3 % at x50, 5 % at x10 and x90, doubled below 10 µm. */
const LIMITS: readonly (readonly [share: number, limit: number])[] = [
  [0.1, 0.05],
  [0.5, 0.03],
  [0.9, 0.05],
];
const DOUBLED_BELOW = 10e-6;
export const REPEATABILITY_SOURCE = 'ISO 13320 repeatability limits, read in two summaries';

/**
 * Largest coefficient of variation accepted between repeats at x10, x50 or x90.
 *
 * @param share 0.1, 0.5 or 0.9; between them the nearest counts
 * @param size percentile [m]
 * @example repeatabilityLimit(0.5, 5e-6) // 0.06
 */
export function repeatabilityLimit(share: number, size: number): number {
  const nearest = LIMITS.reduce((a, b) => (Math.abs(b[0] - share) < Math.abs(a[0] - share) ? b : a));
  return nearest[1] * (size < DOUBLED_BELOW ? 2 : 1);
}

/**
 * Scatter of x10, x50 and x90 over repeats, held against the limits of ISO 13320.
 *
 * @param percentile size [m] of a repeat at a share
 * @param repeats number of repeats, ≥ 2
 */
export function scatterOf(percentile: (repeat: number, share: number) => number, repeats: number): Scatter[] {
  return LIMITS.map(([share]) => {
    const sizes = Array.from({ length: repeats }, (_, i) => percentile(i, share));
    const mean = sizes.reduce((sum, size) => sum + size, 0) / repeats;
    const variance = sizes.reduce((sum, size) => sum + (size - mean) ** 2, 0) / (repeats - 1);
    const variation = Math.sqrt(variance) / mean;
    const limit = repeatabilityLimit(share, mean);
    return { share, mean, variation, limit, accepted: variation <= limit };
  });
}
