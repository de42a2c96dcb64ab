/**
 * Share kept by collectors one behind the other, 1 − Π(1 − η_i) (`derived`).
 *
 * @param efficiencies η of each at one size
 * @example inSeries([1 / 26, 0.390244]) // 0.4137
 */
export function inSeries(efficiencies: readonly number[]): number {
  return 1 - efficiencies.reduce((lost, kept) => lost * (1 - kept), 1);
}
