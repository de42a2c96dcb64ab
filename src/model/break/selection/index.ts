import type { SelectionLaw } from './law.ts';
export const SELECTION_LAWS: Record<string, SelectionLaw> = {
  impact: {
    name: 'impact',
    summary: '',
    label: 'recalled',
    source: '',
    parameters: [
      {
        name: 'friability',
        symbol: 'f_mat',
        unit: 'kg/(J m)',
        shownIn: 'kg/(J m)',
        meaning: 'friability f_mat',
        exclusiveMinimum: 0,
      },
      {
        name: 'threshold',
        symbol: 'c',
        unit: 'J m/kg',
        shownIn: 'J m/kg',
        meaning: 'grind threshold, size times least energy',
        minimum: 0,
      },
    ],
    probability: (p, x, hit) =>
      -Math.expm1(-(p.friability as number) * Math.max(0, x * hit.energy - (p.threshold as number))),
    grindLimit: (p, hit) => (p.threshold as number) / hit.energy,
    outside: () => [],
  },
};
