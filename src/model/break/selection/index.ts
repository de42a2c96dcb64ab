import type { SelectionLaw } from './law.ts';
export const SELECTION_LAWS: Record<string, SelectionLaw> = {
  impact: {
    name: 'impact',
    summary: '',
    label: 'recalled',
    source: '',
    parameters: [],
    probability: (p, x, hit) =>
      -Math.expm1(-(p.friability as number) * Math.max(0, x * hit.energy - (p.threshold as number))),
    grindLimit: (p, hit) => (p.threshold as number) / hit.energy,
    outside: () => [],
  },
};
