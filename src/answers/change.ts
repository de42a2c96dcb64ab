import { withValues } from '../scenario/operating-point.ts';
import { pathInFile } from '../scenario/path.ts';
import type { Provenance, Scenario } from '../scenario/scenario.ts';
import { isShownUnit, toShown } from '../scenario/units/display.ts';

/** One value laid over a scenario; SI, or a name. */
export interface Change {
  readonly path: string;
  readonly value: number | string;
  readonly as?: 'shaft' | 'rim';
}

/**
 * A scenario with changes laid over it; the wheel is chosen first. What was changed counts as given, so that the list of
 * numbers in use says what this point uses.
 *
 * @param source who gave the values, e.g. `the sweep`
 */
export function changedScenario(
  scenario: Scenario,
  changes: readonly Change[],
  source = 'this page',
): Scenario {
  const changed = withValues(
    scenario,
    changes,
    changes.map(({ value }) => value),
  );
  const provenance: Record<string, Provenance> = { ...scenario.provenance };
  for (const { path, value } of changes) {
    const name = pathInFile(path, changed.settings.wheel);
    const known = provenance[name];
    if (!known || typeof value !== 'number' || !isShownUnit(known.unit)) continue;
    const shown = toShown(value, known.unit);
    if (shown !== known.value) provenance[name] = { ...known, value: shown, label: 'given', source };
  }
  return { ...changed, provenance };
}
