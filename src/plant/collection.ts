/**
 * Share kept by collectors one behind the other, 1 − Π(1 − η_i) (eq. P16, `derived`).
 *
 * @param efficiencies η of each at one size
 * @example inSeries([1 / 26, 0.390244]) // 0.4137
 */
export function inSeries(efficiencies: readonly number[]): number {
  return 1 - efficiencies.reduce((lost, kept) => lost * (1 - kept), 1);
}

/**
 * Share kept by collectors side by side, Σ Q_i η_i/Σ Q_i: each treats what its share of the gas brings (eq. P16, `derived`).
 *
 * @param branches gas flow (any unit) and efficiency of each
 */
export function inParallel(
  branches: readonly { readonly flow: number; readonly efficiency: number }[],
): number {
  let all = 0;
  let kept = 0;
  for (const { flow, efficiency } of branches) {
    all += flow;
    kept += flow * efficiency;
  }
  return kept / all;
}
