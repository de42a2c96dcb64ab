import { impact } from './impact.ts';
import { logEnergy } from './log-energy.ts';
import { power } from './power.ts';
import type { SelectionLaw } from './selection-law.ts';
import { table } from './table.ts';

/** Every selection law, by the name it has in a scenario. */
export const SELECTION_LAWS: Readonly<Record<string, SelectionLaw>> = {
  [impact.name]: impact,
  [power.name]: power,
  [logEnergy.name]: logEnergy,
  [table.name]: table,
};
