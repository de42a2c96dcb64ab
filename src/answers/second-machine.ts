import { type SitedCase, toCase } from '../scenario/operating-point.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatQuantity, toShown } from '../scenario/units/display.ts';
import { carryOver, likeWheel } from '../search/scale/map-to-machine.ts';
import { scaleTo } from '../search/scale/scale.ts';
import { specLimits } from '../search/scale/spec-limits.ts';
import type { LadderInput } from './feed-ladder.ts';
import { feedsUpTo, ladderView, rungNames, rungsOf } from './feed-ladder.ts';
import { withBands } from './feed-ladder-bands.ts';
import { label } from './text.ts';

/**
 * The climb of a second machine, at the settings that give it the same product as the first one's.
 *
 * @param other scenario of the second machine; its feed and settings do not matter
 * @returns undefined where the first chokes, or the second cannot make the product
 */
export function besideView(scenario: Scenario, other: Scenario): LadderInput['other'] {
  const from = solvePoint(toCase(scenario));
  if (from.status === 'choked') return undefined;
  const { machine } = carryOver(from.case, other, likeWheel(from.case, other));
  const scaled = scaleTo(from, machine, { limits: specLimits(scenario.spec, from) });
  const point = scaled.most ?? scaled.same;
  if (!point) return undefined;
  const c = point.solved.case;
  const top = solvePoint(c).state.feedAtChoke * 1.02;
  const feeds = feedsUpTo(top);
  const points = feeds.map((feed) => atFeed(c, feed));
  return {
    name: `${label(other.machine.name, 60)}, set for the same product: ${settingsOf(c)}`,
    feed: feeds.map((feed) => toShown(feed, 'kg/h')),
    rungs: rungsOf(points, rungNames(scenario)),
  };
}

function atFeed(c: SitedCase, feedRate: number): Point {
  return solvePoint({ ...c, settings: { ...c.settings, feedRate } }, { choke: false });
}

function settingsOf({ settings, air, wheelName }: SitedCase): string {
  const rpm = (speed: number) => formatQuantity(speed, 'rpm', 4);
  return `rotor ${rpm(settings.rotorSpeed)}, ${label(wheelName)} wheel ${rpm(settings.wheelSpeed)}, air ${formatQuantity(air.flow, 'm^3/h', 3)}`;
}

/** A scenario's ladder with its bands, and with a second machine's laid over it where one is named and can make the product. */
export function ladderWith(scenario: Scenario, other: Scenario | undefined): LadderInput {
  const beside = other && besideView(scenario, other);
  return { ...withBands(scenario, ladderView(scenario)), ...(beside ? { other: beside } : {}) };
}
