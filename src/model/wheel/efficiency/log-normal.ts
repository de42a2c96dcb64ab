import { normalCumulative } from '../../numerics/normal.ts';
import type { EfficiencyLaw } from './efficiency-law.ts';

/** Normal deviate of 75 %. */
const QUARTILE = 0.6744897501960817;

/** T = Φ(ln z/s), s = ln(1/κ)/(2 · 0.67449) (eq. 19, `derived`). */
export const logNormal: EfficiencyLaw = {
  name: 'log-normal',
  summary: 'cumulative normal of the logarithm of size over cut',
  label: 'derived',
  source: 'cumulative normal in ln z; s from κ = x25/x75',
  parameters: [],
  sharpnessRange: [0.05, 0.98],
  shape: (sharpness) => (2 * QUARTILE) / -Math.log(sharpness),
  passing: (z, inverseSpread) => normalCumulative(-Math.log(z) * inverseSpread),
};
