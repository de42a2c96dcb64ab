import type { Requirement } from '../scenario/expression/expression.ts';
import { withValue } from '../scenario/operating-point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { fromShown, toShown } from '../scenario/units/display.ts';
import { BY_RANGE, type End, feedLimit, reachOf } from './reach.ts';
import { standingOf } from './standing.ts';

/** Share of a feed limit that is kept as a margin. */
export const KEPT = 0.1;
/** How far above the highest feed swept the limit is looked for. */
const BEYOND = 1.2;

/** A feed rate put forward, with the limit it stays below. */
export interface KeptFeed {
  /** [kg/s] */
  readonly feedRate: number;
  /** Highest feed that meets everything; at the end of the search where it lies higher. */
  readonly limit: End;
  /** Why the feed is not a tenth below its limit: a requirement on the feed itself, or the end of the range that was swept. */
  readonly because?: 'requirement' | 'range';
}

/**
 * The feed to put forward at a scenario's other settings: a tenth below the highest that meets everything, no higher than was
 * swept. Where the tenth would break a requirement on the feed itself, that requirement's own value.
 *
 * @param top highest feed swept [kg/s]
 * @returns undefined where no feed meets everything
 */
export function keptFeed(scenario: Scenario, top: number): KeptFeed | undefined {
  const limit = feedLimit(scenario, top * BEYOND);
  if (!limit) return undefined;
  const wanted = limit.value * (1 - KEPT);
  const within = limit.by !== BY_RANGE && wanted <= top;
  const feedRate = within ? roundedDown(wanted) : Math.min(top, limit.value);
  const least = leastFeed(scenario, limit.value, feedRate);
  if (least > feedRate * (1 + 1e-9)) return { feedRate: least, limit, because: 'requirement' };
  return within ? { feedRate, limit } : { feedRate, limit, because: 'range' };
}

/** The lowest feed from a wanted one up to the limit that meets everything; the wanted one where that does. */
function leastFeed(scenario: Scenario, limit: number, wanted: number): number {
  if (standingOf(withValue(scenario, 'feedRate', wanted)).meets) return wanted;
  const stated = scenario.spec.flatMap((requirement) => statedFeed(requirement) ?? []);
  const least = stated.filter((feed) => feed > wanted && feed <= limit).sort((a, b) => a - b);
  const exact = least.find((feed) => standingOf(withValue(scenario, 'feedRate', feed)).meets);
  if (exact !== undefined) return exact;
  return reachOf(withValue(scenario, 'feedRate', limit), { path: 'feedRate', value: limit }, wanted).value;
}

/** The feed a requirement states as its least: `feedRate >= 400 kg/h`, or a little more for `>`. */
function statedFeed({ left, right, relation }: Requirement): number | undefined {
  if (left.kind !== 'quantity' || left.name !== 'feedRate' || right.kind !== 'number') return undefined;
  if (relation === '>=') return right.value;
  return relation === '>' ? right.value * 1.01 : undefined;
}

/** To two digits, or steps of five in the third. */
function roundedDown(feedRate: number): number {
  const shown = toShown(feedRate, 'kg/h');
  const step = 10 ** Math.floor(Math.log10(shown)) / 20;
  return fromShown(Math.floor(shown / step + 1e-9) * step, 'kg/h');
}
