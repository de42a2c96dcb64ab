import type { Method } from '../../scenario/measurement/measured-sample.ts';
import { withValues } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import type { Found } from '../find/find.ts';
import { type PlannedTrial, plannedTrial } from './candidate-trial.ts';
import { runnable } from './runnable.ts';

/** Why a run is in a plan: at the settings asked about, asked for by name, or because it teaches most. */
export type Why = 'asked' | 'included' | 'teaches';

/** Settings that are to be run whatever they teach. */
export interface Wish {
  readonly why: Exclude<Why, 'teaches'>;
  readonly scenario: Scenario;
}

/** A wish that is not in the plan, and what stands in the way. */
export interface NotRun extends Wish {
  readonly reason: 'limit' | 'powder' | 'time';
}

/** Feed rates at which the settings asked about are tried, as shares of theirs: an optimum lies at its limit, and a trial must not. */
const FEED_SHARES = [1, 0.9, 0.8, 0.7, 0.6, 0.5] as const;

/**
 * The trial of a wish, at the highest share of its feed rate that may be run and is affordable; one that was asked for by
 * name is run as it is or not at all.
 *
 * @param affordable whether powder and time suffice for a trial
 */
export function wantedTrial(
  wish: Wish,
  posterior: Posterior,
  method: Method,
  affordable: (trial: PlannedTrial) => boolean,
): PlannedTrial | 'limit' | 'unaffordable' {
  let safe = false;
  for (const share of wish.why === 'asked' ? FEED_SHARES : [1]) {
    const scenario = withFeedShare(wish.scenario, share);
    const trial = runnable(scenario, posterior) ? plannedTrial(scenario, posterior, method) : undefined;
    if (trial && affordable(trial)) return trial;
    safe ||= trial !== undefined;
  }
  return safe ? 'unaffordable' : 'limit';
}

function withFeedShare(scenario: Scenario, share: number): Scenario {
  return withValues(scenario, [{ path: 'feedRate' }], [share * scenario.settings.feedRate]);
}

/** Trials by which every wheel that may be recommended has run. */
export const WHEELS_BY = 3;

/**
 * Wheels that may be recommended, best first: those that meet the spec at their own best settings, or where none does the
 * nearest; as many as can run by the third trial.
 */
export function wheelsInQuestion({ byChoice, meets }: Found): string[] {
  const best = meets ? byChoice.filter(({ outcome }) => outcome.spec.every(({ met }) => met)) : byChoice;
  return [...new Set(best.map(({ scenario }) => scenario.settings.wheel))].slice(0, WHEELS_BY);
}
