import { SOURCES } from '../../sources.ts';
import type { EfficiencyLaw } from './law.ts';
import { solveShape } from './solve-shape.ts';

const LARGEST = 400;

/** T = 1/(1 + z^−2 exp(k(1 − z²))) (eq. 19; `recalled`: Molerus & Hoffmann 1969; κ ≥ 1/3 only: k = 0 gives 1/3). */
export const diffusion: EfficiencyLaw = {
  name: 'diffusion',
  summary: 'particles dispersed about the size in balance',
  label: 'recalled',
  source: SOURCES.molerusHoffmann1969,
  parameters: [],
  sharpnessRange: [1 / 3 + 1e-9, 0.98],
  shape: (sharpness) =>
    solveShape((z, k) => 1 - diffusion.passing(z, k, { law: 'diffusion' }), sharpness, 0, LARGEST),
  passing: (z, k) => {
    const square = z * z;
    return 1 / (1 + square * Math.exp(-k * (1 - square)));
  },
};
