import { fillDecay } from './decay.ts';
import type { EfficiencyLaw } from './law.ts';

const LN2 = Math.LN2;
export const EFFICIENCY_LAWS: Record<string, EfficiencyLaw> = {
  'rosin-rammler': {
    name: 'rosin-rammler',
    summary: '',
    label: 'derived',
    source: '',
    parameters: [],
    shape: (k) => Math.log(Math.log(4) / Math.log(4 / 3)) / Math.log(1 / k),
    sharpnessRange: [0.05, 0.98],
    passing: (z, m) => Math.exp(-LN2 * z ** m),
    fillPassing: (z0, logRatio, m, out, from, to) => fillDecay(LN2 * z0 ** m, m * logRatio, out, from, to),
  },
};
