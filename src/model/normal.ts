const SERIES_BELOW = 2.5;
const MOST_TERMS = 200;

/**
 * Cumulative normal distribution Φ(z) to the last digits: the power series of erf inside |z| < 2.5, the continued fraction
 * of erfc outside (`published`: Abramowitz & Stegun 26.2.10, 26.2.14). The lower tail keeps its relative accuracy.
 *
 * @param z standardised variable
 * @returns 0…1
 * @example normalCumulative(1) // 0.841344746
 */
export function normalCumulative(z: number): number {
  const size = Math.abs(z);
  const density = Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI);
  if (size < SERIES_BELOW) {
    let term = z;
    let sum = z;
    for (let k = 1; k < MOST_TERMS && Math.abs(term) > 1e-17 * Math.abs(sum); k++) {
      term *= (z * z) / (2 * k + 1);
      sum += term;
    }
    return 0.5 + density * sum;
  }
  let fraction = 0;
  for (let k = MOST_TERMS; k > 0; k--) fraction = k / (size + fraction);
  const tail = density / (size + fraction);
  return z < 0 ? tail : 1 - tail;
}
