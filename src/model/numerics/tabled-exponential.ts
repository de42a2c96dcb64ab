/** Steps of the table per factor of two, 2^BITS. */
const BITS = 10;
const STEPS = 2 ** BITS;
const WITHIN = STEPS - 1;
const STEP = Math.LN2 / STEPS;
const PER_STEP = 1 / STEP;
/** Up to this v the short series of 1 − e^(−v) is exact to the last digit, and the long one up to that. */
export const SHORT = 1 / 128;
const LONG = 1 / 16;
/** Beyond this e^(−v) is zero in double precision. */
export const VANISHED = 745.2;

const FRACTIONS = Float64Array.from({ length: STEPS }, (_, j) => 2 ** (-j / STEPS));
const HALVES = Float64Array.from({ length: 1100 }, (_, k) => 2 ** -k);

/**
 * e^(−v) from a table of 2^(−j/1024) and a polynomial of degree 3 (remainder < 6e-16): several times as fast as the
 * library's. Relative error < 2e-15 · max(1, v).
 *
 * @param v from 0 to below `VANISHED`
 * @example decayed(0.5) // 0.606531
 */
export function decayed(v: number): number {
  const k = (v * PER_STEP + 0.5) | 0;
  const r = v - k * STEP;
  return FRACTIONS[k & WITHIN]! * HALVES[k >> BITS]! * (1 - r * (1 - r * (1 / 2 - r * (1 / 6))));
}

/** 1 − e^(−v) for 0 ≤ v ≤ `SHORT`, by its series. */
export function lostAtFirst(v: number): number {
  return v * (1 - v * (1 / 2 - v * (1 / 6 - v * (1 / 24 - v * (1 / 120 - v * (1 / 720))))));
}

/**
 * 1 − e^(−v), the share of first-order loss. Relative error < 2e-14.
 *
 * @param v ≥ 0
 * @example lost(0.5) // 0.393469
 */
export function lost(v: number): number {
  if (v >= LONG) return v < VANISHED ? 1 - decayed(v) : 1;
  const v2 = v * v;
  // the terms of order 7 to 9 beside the short series
  return lostAtFirst(v) + v2 * v2 * v2 * v * (1 / 5040 - v * (1 / 40320 - v * (1 / 362880)));
}
