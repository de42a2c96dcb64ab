import { decayed, lostAtFirst, SHORT, VANISHED } from '../../numerics/tabled-exponential.ts';
import type { ClassPassing } from './efficiency-law.ts';

/** Classes between exact anchors of the recurrence; each step adds half a rounding error. */
const ANCHOR = 32;

/**
 * Fills e^(−v) for two geometric sequences side by side, v_i = v_0 s^i over and times a constant, from ≤ i < to: the
 * passing curve 2^(−z^m) at the two points of each class of a geometric size grid, where z_i^m is itself geometric. One
 * power each 32 classes; the exponential by its series where v is small, else from its table. Relative error < 2e-15 · max(1, v).
 *
 * @param logFirst ln v_0, of the middle of class 0
 * @param logStep ln s > 0
 * @param logApart ln of the constant, ≥ 0
 * @param passing written in place
 * @param negligible values below this are written as zero; 0 keeps every one double precision can hold
 * @throws RangeError where v_0 is not a number
 */
export function fillDecay(
  logFirst: number,
  logStep: number,
  logApart: number,
  { finer, coarser }: ClassPassing,
  from: number,
  to: number,
  negligible: number,
): void {
  const vanished = negligible > 0 ? Math.min(VANISHED, -Math.log(negligible)) : VANISHED;
  const step = Math.exp(logStep);
  const logFiner = logFirst - logApart;
  const apart = Math.exp(2 * logApart);
  let i = from;
  while (i < to) {
    let v = Math.exp(logFiner + i * logStep);
    let u = v * apart;
    if (Number.isNaN(v)) throw new RangeError('a passing curve needs a cut that is a number');
    if (v >= vanished) {
      finer.fill(0, i, to);
      coarser.fill(0, i, to);
      return;
    }
    const end = Math.min(to, i + ANCHOR);
    for (; i < end && u < SHORT; i++) {
      finer[i] = 1 - lostAtFirst(v);
      coarser[i] = 1 - lostAtFirst(u);
      v *= step;
      u *= step;
    }
    for (; i < end && u < vanished; i++) {
      finer[i] = decayed(v);
      coarser[i] = decayed(u);
      v *= step;
      u *= step;
    }
    // the coarser point has vanished, the finer one not yet
    for (; i < end && v < vanished; i++) {
      finer[i] = decayed(v);
      coarser[i] = 0;
      v *= step;
    }
  }
}
