import { fillDecay } from './decay.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';

/** ln(ln 4/ln(4/3)): m = this/ln(1/κ). */
const EXPONENT = Math.log(Math.log(4) / Math.log(4 / 3));

const LOG_LN2 = Math.log(Math.LN2);

/** T = 1 − exp(−ln2 z^m), m = 1.5725336/ln(1/κ) (eq. 19, `derived`). */
export const rosinRammler: EfficiencyLaw = {
  name: 'rosin-rammler',
  summary: 'exponential of a power of size over cut',
  label: 'derived',
  source: 'Rosin-Rammler form; m from κ = x25/x75',
  parameters: [],
  sharpnessRange: [0.05, 0.98],
  shape: (sharpness) => EXPONENT / -Math.log(sharpness),
  passing: (z, m) => Math.exp(-Math.LN2 * z ** m),
  fillPassing: (firstZ, logRatio, logApart, m, passing, from, to, negligible) => {
    fillDecay(LOG_LN2 + m * Math.log(firstZ), m * logRatio, m * logApart, passing, from, to, negligible);
  },
};
