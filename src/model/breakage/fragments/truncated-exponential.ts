import { SOURCES } from '../../sources.ts';
import type { FragmentLaw } from './fragment-law.ts';

/** B = (1 − exp(−x/y))/(1 − exp(−1)) (eq. 13; `recalled`: Broadbent & Callcott 1956). Not a sum of products. */
export const truncatedExponential: FragmentLaw = {
  name: 'truncated-exponential',
  summary: 'no parameters: fragments spread evenly over the size ratio',
  label: 'recalled',
  source: SOURCES.broadbentCallcott1956,
  parameters: [],
  undersize: (_, size, parent) => (size >= parent ? 1 : Math.expm1(-size / parent) / Math.expm1(-1)),
  outside: () => [],
};
