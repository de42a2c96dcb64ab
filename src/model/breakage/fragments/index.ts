import type { FragmentLaw } from './fragment-law.ts';
import { impact } from './impact.ts';
import { power } from './power.ts';
import { table } from './table.ts';
import { truncatedExponential } from './truncated-exponential.ts';
import { twoPower } from './two-power.ts';

/** Every fragment law, by the name it has in a scenario. */
export const FRAGMENT_LAWS: Readonly<Record<string, FragmentLaw>> = {
  [impact.name]: impact,
  [twoPower.name]: twoPower,
  [truncatedExponential.name]: truncatedExponential,
  [power.name]: power,
  [table.name]: table,
};
