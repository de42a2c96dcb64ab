import { SOURCES } from '../../sources.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';

/**
 * T = 1/(1 + z^−2 exp(k(1 − z²))) (eq. 19; `recalled`: Molerus & Hoffmann 1969; κ ≥ 1/3 only: k = 0 gives 1/3).
 *
 * T = s where w = k z² has w + ln w = ln(s/(1 − s)) + ln k + k, so κ² = w25/w75; k from κ by Newton (`derived`).
 */
export const diffusion: EfficiencyLaw = {
  name: 'diffusion',
  summary: 'particles dispersed about the size in balance',
  label: 'recalled',
  source: SOURCES.molerusHoffmann1969,
  parameters: [],
  sharpnessRange: [1 / 3 + 1e-9, 0.98],
  shape: (sharpness) => {
    const wanted = Math.log(sharpness);
    // right at both ends of the range, 3 % off in between
    let k = -Math.log(3) / wanted - 1;
    for (let step = 0; step < MOST_STEPS; step++) {
      const level = Math.log(k) + k;
      const low = logOf(level - Math.log(3));
      const high = logOf(level + Math.log(3));
      const slope = 0.5 * (1 + 1 / k) * (1 / (1 + Math.exp(low)) - 1 / (1 + Math.exp(high)));
      const change = (wanted - (low - high) / 2) / slope;
      k = Math.max(k + change, k / 4);
      if (Math.abs(change) < 1e-14 * k) break;
    }
    return k;
  },
  passing: (z, k) => {
    const square = z * z;
    return 1 / (1 + square * Math.exp(-k * (1 - square)));
  },
};

/** Newton doubles its digits a step; six are usual. */
const MOST_STEPS = 20;

/** ln w of w + ln w = level, by Newton. */
function logOf(level: number): number {
  let log = level < 1 ? level : Math.log(level);
  for (let step = 0; step < MOST_STEPS; step++) {
    const w = Math.exp(log);
    const change = (level - log - w) / (1 + w);
    log += change;
    if (Math.abs(change) < 1e-15 * Math.abs(level)) break;
  }
  return log;
}
