/** Beyond this the series loses digits to the fraction. */
const SERIES_BELOW = 2.5;
/** Beyond this 1 − Φ is below half a unit of the last place of 1. */
const WHOLE_ABOVE = 8.3;
/** Terms of the continued fraction that reach round-off at z: this many and a share of 1/z² (measured). */
const FRACTION_TERMS = 12;
const FRACTION_GROWTH = 400;

/**
 * Cumulative normal distribution Φ(z) to the last digits: the power series of erf inside |z| < 2.5, the continued fraction
 * of erfc outside (`published`: Abramowitz & Stegun 26.2.10, 26.2.14). The lower tail keeps its relative accuracy.
 *
 * @param z standardised variable
 * @returns 0…1
 * @example normalCumulative(1) // 0.841344746
 */
export function normalCumulative(z: number): number {
  if (z > WHOLE_ABOVE) return 1;
  const size = Math.abs(z);
  const density = Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI);
  if (size < SERIES_BELOW) {
    let term = z;
    let sum = z;
    for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(sum); k += 2) {
      term *= (z * z) / k;
      sum += term;
    }
    return 0.5 + density * sum;
  }
  if (density === 0) return 0;
  let fraction = 0;
  for (let k = Math.ceil(FRACTION_TERMS + FRACTION_GROWTH / (z * z)); k > 0; k--)
    fraction = k / (size + fraction);
  const tail = density / (size + fraction);
  return z < 0 ? tail : 1 - tail;
}
