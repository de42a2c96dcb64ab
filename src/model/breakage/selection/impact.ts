import { lost } from '../../numerics/tabled-exponential.ts';
import { believed } from '../../parameters.ts';
import { SOURCES } from '../../sources.ts';
import type { SelectionLaw } from './selection-law.ts';

/**
 * Impact law, S(x) = 1 − exp(−f_mat · max(0, x W − c)) (eq. 7; form `recalled`: Vogel & Peukert 2003). Below x = c/W
 * nothing breaks: the grind limit.
 */
export const impact: SelectionLaw = {
  name: 'impact',
  summary: 'breakage probability of a single impact, with a threshold energy',
  label: 'recalled',
  source: SOURCES.vogelPeukert2003,
  parameters: [
    {
      name: 'friability',
      typical: 0.5,
      symbol: 'f_mat',
      unit: 'kg/(J m)',
      shownIn: 'kg/(J m)',
      meaning: 'how readily the material breaks under impact',
      usual: { low: 2e-3, high: 20 },
      exclusiveMinimum: 0,
      maximum: 100,
      belief: believed(1),
    },
    {
      name: 'threshold',
      typical: 0.05,
      symbol: 'c',
      unit: 'J m/kg',
      shownIn: 'J m/kg',
      meaning: 'size times the energy a hit must exceed to break anything',
      usual: { low: 0, high: 20 },
      minimum: 0,
      maximum: 100,
      belief: believed(1),
    },
  ],
  probability: ({ friability, threshold }, size, { energy }) => {
    const excess = size * energy - (threshold as number);
    return excess > 0 ? lost((friability as number) * excess) : 0;
  },
  grindLimit: ({ threshold }, { energy }) => (threshold === 0 ? 0 : (threshold as number) / energy),
  outside: (_, { speed }) =>
    speed > 200
      ? [`impact at ${speed.toFixed(0)} m/s is above the 200 m/s single-particle tests cover (recalled)`]
      : [],
};
