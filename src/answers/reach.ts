import type { Requirement } from '../scenario/expression/expression.ts';
import { toCase, withValue } from '../scenario/operating-point.ts';
import { withinSpeeds } from '../scenario/outcome/overspeed.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import { asksFeedAtChoke, expressionValue, isMet, marginOf } from '../scenario/outcome/spec.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { Change } from './change.ts';

/** How one operating point stands to the spec. */
export interface Standing {
  readonly point: Point;
  /** SI, > 0 inside; NaN where it chokes. */
  readonly margins: readonly number[];
  readonly meets: boolean;
}

/** Solves a scenario's operating point and holds it against the spec. */
export function standingOf(scenario: Scenario): Standing {
  const point = solvePoint(toCase(scenario), { choke: asksFeedAtChoke({ spec: scenario.spec }) });
  if (point.status === 'choked') {
    return { point, margins: scenario.spec.map(() => Number.NaN), meets: false };
  }
  const margins = scenario.spec.map((requirement) => marginOf(requirement, point));
  const met = scenario.spec.every((requirement, i) => isMet(requirement, margins[i]!));
  return { point, margins, meets: met && withinSpeeds(point.case) };
}

/** A margin over the size of its limit, so that margins of different units can be compared. */
export function relativeMargins({ spec }: Scenario, { point, margins }: Standing): number[] {
  if (point.status === 'choked') return spec.map(() => Number.NEGATIVE_INFINITY);
  return spec.map((requirement, i) => margins[i]! / scaleOf(requirement, point));
}

/** Size of a limit; for a share that is to be nearly all, what may be missing; for temperatures, kelvins above freezing. */
function scaleOf(requirement: Requirement, point: Point & { status: 'steady' }): number {
  const limit = expressionValue(requirement.right, point);
  if (requirement.shownIn === 'degC') return Math.max(10, Math.abs(limit - 273.15));
  if (requirement.shownIn === '%' && limit > 0.5 && limit < 1) return 1 - limit;
  return Math.abs(limit) || 1;
}

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

const STEPS = 24;
const HALVINGS = 30;

/**
 * How far one number may go from a value that meets the spec before the spec is lost.
 *
 * @param change path of the number; its value is the start, SI
 * @param to end of the search, SI; may lie below the start
 */
export function reachOf(scenario: Scenario, change: Change & { readonly value: number }, to: number): End {
  const at = (value: number) => standingOf(withValue(scenario, change.path, value, change.as));
  let good = change.value;
  for (let k = 1; k <= STEPS; k++) {
    const next = change.value + ((to - change.value) * k) / STEPS;
    const standing = at(next);
    if (standing.meets) {
      good = next;
      continue;
    }
    return close(scenario, at, good, next, standing);
  }
  return { value: to, by: BY_RANGE };
}

function close(
  scenario: Scenario,
  at: (value: number) => Standing,
  meets: number,
  fails: number,
  failing: Standing,
): End {
  let [inside, outside, worst] = [meets, fails, failing];
  for (let k = 0; k < HALVINGS && Math.abs(outside - inside) > 1e-6 * Math.abs(outside); k++) {
    const middle = (inside + outside) / 2;
    const standing = at(middle);
    if (standing.meets) inside = middle;
    else [outside, worst] = [middle, standing];
  }
  if (worst.point.status === 'choked') return { value: inside, by: BY_CHOKING };
  if (!withinSpeeds(worst.point.case)) return { value: inside, by: BY_SPEED };
  const relative = relativeMargins(scenario, worst);
  return { value: inside, by: relative.indexOf(Math.min(...relative)) };
}

/**
 * Highest feed rate that meets the whole spec with everything else as it stands.
 *
 * @param highest end of the search [kg/s]
 * @returns undefined where no feed rate does
 */
export function feedLimit(scenario: Scenario, highest: number): End | undefined {
  let last: number | undefined;
  for (let k = 1; k <= STEPS; k++) {
    const feed = (highest * k) / STEPS;
    if (standingOf(withValue(scenario, 'feedRate', feed)).meets) last = feed;
  }
  if (last === undefined) return undefined;
  const next = last + highest / STEPS;
  return reachOf(withValue(scenario, 'feedRate', last), { path: 'feedRate', value: last }, next);
}
