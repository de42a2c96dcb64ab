import type { Kept } from '../model/loop/workspace.ts';
import { bracket } from '../model/numerics/root.ts';
import { withValue } from '../scenario/operating-point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { Change } from './change.ts';
import { missesOf, nearestOf, type Standing, standingOf } from './standing.ts';

/** What ends the range in which a spec is met. */
export interface End {
  /** SI. */
  readonly value: number;
  /** Place in the spec of the line lost first, or one of the codes below. */
  readonly by: number;
}

export const BY_CHOKING = -1;
/** The end of the search was reached. */
export const BY_RANGE = -2;
/** A shaft would turn faster than it may. */
export const BY_SPEED = -3;
/** The rotor would need more power than its motor gives. */
export const BY_MOTOR = -4;

const STEPS = 24;
const HALVINGS = 30;

/**
 * How far one number may go from a value that meets the spec before the spec is lost.
 *
 * @param change path of the number; its value is the start, SI
 * @param to end of the search, SI; may lie below the start
 */
export function reachOf(scenario: Scenario, change: Change & { readonly value: number }, to: number): End {
  const kept: Kept = {};
  const at = (value: number) => standingOf(withValue(scenario, change.path, value, change.as), kept);
  let good = change.value;
  for (let k = 1; k <= STEPS; k++) {
    const next = change.value + ((to - change.value) * k) / STEPS;
    const standing = at(next);
    if (standing.meets) {
      good = next;
      continue;
    }
    return close(at, good, next, standing);
  }
  return { value: to, by: BY_RANGE };
}

function close(at: (value: number) => Standing, meets: number, fails: number, failing: Standing): End {
  let worst = failing;
  const isMet = (value: number): boolean => {
    const standing = at(value);
    if (!standing.meets) worst = standing;
    return standing.meets;
  };
  const { holds } = bracket(isMet, meets, fails, { within: 1e-6, steps: HALVINGS });
  return { value: holds, by: causeOf(worst) };
}

/** What is missed worst at a point that does not meet the spec: a place in it, or a code. */
function causeOf(standing: Standing): number {
  if (standing.point.status === 'choked') return BY_CHOKING;
  const [worst] = missesOf(standing);
  if (!worst || worst.kind === 'requirement') return worst?.place ?? nearestOf(standing);
  return worst.excess.name === 'rotor power' ? BY_MOTOR : BY_SPEED;
}

/**
 * Highest feed rate that meets the whole spec with everything else as it stands.
 *
 * @param highest end of the search [kg/s]
 * @returns undefined where no feed rate does
 */
export function feedLimit(scenario: Scenario, highest: number): End | undefined {
  const kept: Kept = {};
  let last: number | undefined;
  for (let k = 1; k <= STEPS; k++) {
    const feed = (highest * k) / STEPS;
    if (standingOf(withValue(scenario, 'feedRate', feed), kept).meets) last = feed;
  }
  if (last === undefined) return undefined;
  const next = last + highest / STEPS;
  return reachOf(withValue(scenario, 'feedRate', last), { path: 'feedRate', value: last }, next);
}
