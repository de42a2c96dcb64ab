/** Coefficients of the rational approximation, numerator then denominator, central and tail. */
const CENTRE = [
  [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716,
    2.506628277459239,
  ],
  [-54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1],
] as const;
const TAIL = [
  [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ],
  [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1],
] as const;
const TAIL_FROM = 0.02425;

/**
 * Standard normal number below which a share of the distribution lies, to 1e-9 (P. J. Acklam's rational approximation,
 * recalled; tests hold it against tabulated values).
 *
 * @param share 0 < share < 1
 */
export function normalScore(share: number): number {
  if (share > 1 - TAIL_FROM) return -normalScore(1 - share);
  if (share < TAIL_FROM) {
    const q = Math.sqrt(-2 * Math.log(share));
    return polynomial(TAIL[0], q) / polynomial(TAIL[1], q);
  }
  const q = share - 0.5;
  return (q * polynomial(CENTRE[0], q * q)) / polynomial(CENTRE[1], q * q);
}

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduce((sum, each) => sum * x + each, 0);
}
