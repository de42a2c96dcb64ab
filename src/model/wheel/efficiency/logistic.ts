import type { EfficiencyLaw } from './efficiency-law.ts';

/** T = 1/(1 + z^−m), m = 2 ln 3/ln(1/κ) (eq. 19, `derived`). */
export const logistic: EfficiencyLaw = {
  name: 'logistic',
  summary: 'symmetric in the logarithm of size',
  label: 'derived',
  source: 'logistic in ln z; m from κ = x25/x75',
  parameters: [],
  sharpnessRange: [0.05, 0.98],
  shape: (sharpness) => (2 * Math.log(3)) / -Math.log(sharpness),
  passing: (z, m) => 1 / (1 + z ** m),
};
