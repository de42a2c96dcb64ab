import { withValues } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** One value laid over a scenario; SI, or a name. */
export interface Change {
  readonly path: string;
  readonly value: number | string;
  readonly as?: 'shaft' | 'rim';
}

/** A scenario with changes laid over it; the wheel is chosen first. */
export function changedScenario(scenario: Scenario, changes: readonly Change[]): Scenario {
  return withValues(
    scenario,
    changes,
    changes.map(({ value }) => value),
  );
}
