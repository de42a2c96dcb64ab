import { believed } from '../../parameters.ts';
import { SOURCES } from '../../sources.ts';
import { farFromReference } from './reference-speed.ts';
import type { SelectionLaw } from './selection-law.ts';

/**
 * Power law with a falling branch, S(x) = min(1, a (x/x_0)^α/(1 + (x/µ_s)^Λ)), a ∝ (v_imp/v_ref)² (eq. 8; form
 * `published`: Austin, Shoji & Luckie 1976).
 */
export const power: SelectionLaw = {
  name: 'power',
  summary:
    'power of size, falling again for very coarse particles; grows with the square of the impact speed',
  label: 'published',
  source: SOURCES.austinShojiLuckie1976,
  parameters: [
    {
      name: 'rate',
      typical: 0.6,
      symbol: 'a',
      unit: '1',
      shownIn: '1',
      meaning: 'breakage probability at the reference size and speed',
      exclusiveMinimum: 0,
      maximum: 1e3,
      belief: believed(1),
    },
    {
      name: 'exponent',
      typical: 0.9,
      symbol: 'α',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of size',
      minimum: 0,
      maximum: 5,
      belief: believed(0.3),
    },
    {
      name: 'referenceSize',
      symbol: 'x_0',
      unit: 'm',
      shownIn: 'um',
      meaning: 'size at which the rate is stated',
      exclusiveMinimum: 0,
      preset: { value: 1e-3, label: 'derived', source: 'reference of the rate, 1 mm' },
    },
    {
      name: 'turnSize',
      symbol: 'µ_s',
      unit: 'm',
      shownIn: 'mm',
      meaning: 'size beyond which breakage falls again',
      exclusiveMinimum: 0,
      preset: { value: 1, label: 'assumed', source: 'no falling branch within a mill’s feed' },
    },
    {
      name: 'turnExponent',
      symbol: 'Λ',
      unit: '1',
      shownIn: '1',
      meaning: 'steepness of the falling branch',
      minimum: 0,
      maximum: 10,
      preset: { value: 3, label: 'recalled', source: SOURCES.austinShojiLuckie1976 },
    },
    {
      name: 'referenceSpeed',
      symbol: 'v_ref',
      unit: 'm/s',
      shownIn: 'm/s',
      meaning: 'impact speed at which the rate is stated',
      exclusiveMinimum: 0,
      preset: { value: 80, label: 'assumed', source: 'reference of the rate' },
    },
  ],
  probability: (p, size, { speed }) => {
    const a = (p.rate as number) * (speed / (p.referenceSpeed as number)) ** 2;
    const rising = a * (size / (p.referenceSize as number)) ** (p.exponent as number);
    return Math.min(1, rising / (1 + (size / (p.turnSize as number)) ** (p.turnExponent as number)));
  },
  grindLimit: () => 0,
  outside: (p, { speed }) => {
    const found = farFromReference(p.referenceSpeed as number, speed);
    const a = (p.rate as number) * (speed / (p.referenceSpeed as number)) ** 2;
    if (a > 1)
      found.push(`the power law gives a probability of ${a.toFixed(1)} at its reference size; 1 was used`);
    return found;
  },
};
