import type { Sourced } from '../../model/sources.ts';
import { isInUse } from '../path.ts';
import type { Scenario } from '../scenario.ts';

/** Every number in use at the chosen wheel, with value, unit, label and source; the assumed ones first. */
export function assumptionsInUse(scenario: Scenario): (Sourced & { readonly name: string })[] {
  const rows = Object.entries(scenario.provenance)
    .filter(([path]) => isInUse(path, scenario.settings.wheel))
    .map(([path, { value, unit, label, source }]) => ({ name: path, value, unit, label, source }));
  const rank = (label: string) =>
    label === 'assumed' ? 0 : label === 'recalled' || label === 'practice' ? 1 : 2;
  return rows.sort((a, b) => rank(a.label) - rank(b.label));
}
