/** Steps of the table per factor of two. */
const STEPS = 64;
const PER_STEP = STEPS / Math.LN2;
/** ln 2/64 in two parts, so that k·ln 2/64 is subtracted without loss (upper part has 32 trailing zero bits). */
const STEP_HIGH = 0.010830417275428772;
const STEP_LOW = Math.LN2 / STEPS - STEP_HIGH;
/** Beyond this e^−v is zero in double precision. */
const VANISHED = 745.2;
/** Up to this v the series alone is exact to the last digit. */
const SMALL = 0.004;
/** Classes between exact anchors of the recurrence; each step adds half a rounding error. */
const ANCHOR = 32;

const FRACTIONS = Float64Array.from({ length: STEPS }, (_, j) => 2 ** (-j / STEPS));
const HALVES = Float64Array.from({ length: 1100 }, (_, k) => 2 ** -k);

/**
 * Fills out[i] = e^(−v_i), from ≤ i < to, for a geometric sequence v_i = v_0 s^i: the passing curve 2^(−z^m) on a
 * geometric size grid, where z_i^m is itself geometric. One power each 32 classes; the exponential by its series where v
 * is small, else from a table of 2^(−j/64) and a polynomial of degree 5 (remainder < 4e-17). Relative error < 2e-14 · max(1, v).
 *
 * @param first v_0 > 0
 * @param logStep ln s > 0
 * @param out written in place
 * @param negligible values below this are written as zero; 0 keeps every one double precision can hold
 */
export function fillDecay(
  first: number,
  logStep: number,
  out: Float64Array,
  from: number,
  to: number,
  negligible: number,
): void {
  const vanished = negligible > 0 ? Math.min(VANISHED, -Math.log(negligible)) : VANISHED;
  const step = Math.exp(logStep);
  const logFirst = Math.log(first);
  let i = from;
  while (i < to) {
    let v = Math.exp(logFirst + i * logStep);
    if (v >= vanished) {
      out.fill(0, i, to);
      return;
    }
    const end = Math.min(to, i + ANCHOR);
    for (; i < end && v < SMALL; i++) {
      out[i] = 1 - v * (1 - v * (1 / 2 - v * (1 / 6 - v * (1 / 24 - v / 120))));
      v *= step;
    }
    for (; i < end && v < vanished; i++) {
      const k = (v * PER_STEP + 0.5) | 0;
      const r = v - k * STEP_HIGH - k * STEP_LOW;
      const series = 1 - r * (1 - r * (1 / 2 - r * (1 / 6 - r * (1 / 24 - r / 120))));
      out[i] = FRACTIONS[k & 63]! * HALVES[k >> 6]! * series;
      v *= step;
    }
  }
}
