import { believed } from '../../parameters.ts';
import { theModel } from '../../sources.ts';
import type { FragmentLaw } from './fragment-law.ts';

const SCALE = 1e-3;

/** B = (x/y)^a (eq. 14): with S ∝ y^a the case that can be solved exactly (`derived`). */
export const power: FragmentLaw = {
  name: 'power',
  summary: 'a single power of the size ratio',
  label: 'derived',
  source: `the exactly solvable case: ${theModel('14')}`,
  parameters: [
    {
      name: 'exponent',
      typical: 1,
      symbol: 'a',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of the size ratio',
      exclusiveMinimum: 0,
      maximum: 20,
      belief: believed(0.3, [0.05, 6]),
    },
  ],
  undersize: ({ exponent }, size, parent) => (size >= parent ? 1 : (size / parent) ** (exponent as number)),
  terms: ({ exponent }) => [
    {
      ofFragment: (size) => (size / SCALE) ** (exponent as number),
      ofParent: (size) => (size / SCALE) ** -(exponent as number),
    },
  ],
  outside: () => [],
};
