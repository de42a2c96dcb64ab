/** How well a blend is mixed, from samples of one component's share. */
interface Mixing {
  /** Variance of samples before mixing, p(1 − p). */
  readonly unmixed: number;
  /** Variance of a random mixture, p(1 − p)/N. */
  readonly random: number;
  /** Variance found, divisor n with a known mean, n − 1 without. */
  readonly found: number;
  /** (s_0² − s²)/(s_0² − s_r²): 0 unmixed, 1 random. */
  readonly index: number;
}

/**
 * Mixing index of samples (Earle, Unit Operations in Food Processing, ch. 12).
 *
 * @param shares share of the component in each sample, 0…1
 * @param particles particles in a sample
 * @param mean share of the whole batch where it is known; else the samples' own mean
 * @example mixingIndex([0.234, 0.104, 0.164, 0.196, 0.304, 0.076], 50, 0.15).index // 0.966
 */
export function mixingIndex(shares: readonly number[], particles: number, mean?: number): Mixing {
  const p = mean ?? shares.reduce((sum, share) => sum + share, 0) / shares.length;
  const divisor = mean === undefined ? shares.length - 1 : shares.length;
  const found = shares.reduce((sum, share) => sum + (share - p) ** 2, 0) / divisor;
  const unmixed = p * (1 - p);
  const random = unmixed / particles;
  return { unmixed, random, found, index: (unmixed - found) / (unmixed - random) };
}
