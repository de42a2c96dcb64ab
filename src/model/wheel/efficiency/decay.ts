import type { ClassPassing } from './law.ts';

/** Steps of the table per factor of two, 2^BITS. */
const BITS = 10;
const STEPS = 2 ** BITS;
const WITHIN = STEPS - 1;
const STEP = Math.LN2 / STEPS;
const PER_STEP = 1 / STEP;
/** Beyond this e^−v is zero in double precision. */
const VANISHED = 745.2;
/** Up to this v the series alone is exact to the last digit. */
const SMALL = 1 / 128;
/** Classes between exact anchors of the recurrence; each step adds half a rounding error. */
const ANCHOR = 32;

const FRACTIONS = Float64Array.from({ length: STEPS }, (_, j) => 2 ** (-j / STEPS));
const HALVES = Float64Array.from({ length: 1100 }, (_, k) => 2 ** -k);

/**
 * Fills e^(−v) for two geometric sequences side by side, v_i = v_0 s^i over and times a constant, from ≤ i < to: the
 * passing curve 2^(−z^m) at the two points of each class of a geometric size grid, where z_i^m is itself geometric. One
 * power each 32 classes; the exponential by its series where v is small, else from a table of 2^(−j/1024) and a
 * polynomial of degree 3 (remainder < 6e-16). Relative error < 2e-15 · max(1, v).
 *
 * @param first v_0 > 0, of the middle of class 0
 * @param logStep ln s > 0
 * @param logApart ln of the constant, ≥ 0
 * @param passing written in place
 * @param negligible values below this are written as zero; 0 keeps every one double precision can hold
 */
export function fillDecay(
  first: number,
  logStep: number,
  logApart: number,
  { finer, coarser }: ClassPassing,
  from: number,
  to: number,
  negligible: number,
): void {
  const vanished = negligible > 0 ? Math.min(VANISHED, -Math.log(negligible)) : VANISHED;
  const step = Math.exp(logStep);
  const logFirst = Math.log(first) - logApart;
  const apart = Math.exp(2 * logApart);
  let i = from;
  while (i < to) {
    let v = Math.exp(logFirst + i * logStep);
    let u = v * apart;
    if (v >= vanished) {
      finer.fill(0, i, to);
      coarser.fill(0, i, to);
      return;
    }
    const end = Math.min(to, i + ANCHOR);
    for (; i < end && u < SMALL; i++) {
      finer[i] = 1 - v * (1 - v * (1 / 2 - v * (1 / 6 - v * (1 / 24 - v * (1 / 120 - v / 720)))));
      coarser[i] = 1 - u * (1 - u * (1 / 2 - u * (1 / 6 - u * (1 / 24 - u * (1 / 120 - u / 720)))));
      v *= step;
      u *= step;
    }
    for (; i < end && u < vanished; i++) {
      const k = (v * PER_STEP + 0.5) | 0;
      const l = (u * PER_STEP + 0.5) | 0;
      const r = v - k * STEP;
      const s = u - l * STEP;
      finer[i] = FRACTIONS[k & WITHIN]! * HALVES[k >> BITS]! * (1 - r * (1 - r * (1 / 2 - r / 6)));
      coarser[i] = FRACTIONS[l & WITHIN]! * HALVES[l >> BITS]! * (1 - s * (1 - s * (1 / 2 - s / 6)));
      v *= step;
      u *= step;
    }
    // the coarser point has vanished, the finer one not yet
    for (; i < end && v < vanished; i++) {
      const k = (v * PER_STEP + 0.5) | 0;
      const r = v - k * STEP;
      finer[i] = FRACTIONS[k & WITHIN]! * HALVES[k >> BITS]! * (1 - r * (1 - r * (1 / 2 - r / 6)));
      coarser[i] = 0;
      v *= step;
    }
  }
}
