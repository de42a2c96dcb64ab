import type { LawVersions } from '../../scenario/outside/laws-used.ts';
import type { Scenario, SweepPlan } from '../../scenario/scenario.ts';

/** Everything that decides the rows of a sweep. Plain data: cloned to workers, kept in the store. */
export interface Study {
  readonly scenario: Scenario;
  /** With seed and, where the design leaves it open, number of points filled in; a list holds its points. */
  readonly plan: SweepPlan;
  /** Names of the quantities stored. */
  readonly quantities: readonly string[];
  /** Whether size curves are stored. */
  readonly curves: boolean;
  /** Modules of the user's own whose laws, design or quantities it uses: version by name; absent where there are none. */
  readonly lawModules?: LawVersions;
}
