import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import { toCase, withValue } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { pointInWorld, worldsOf } from '../../trials/chance.ts';
import { quantile } from '../../trials/fit/quantile.ts';
import type { LadderInput, Rung } from '../figures/ladder.ts';
import { pageUnit, quantityMeasure, requirementWords } from '../words.ts';
import { feedLimit } from './limits.ts';
import { endWords } from './spoken.ts';

/** What is shown against feed. */
export const RUNGS = ['x95', 'motorLoad', 'outletTemperature', 'holdup'] as const;
const POINTS = 25;

/** What happens as the feed is raised at the scenario's settings. */
export function ladderView(scenario: Scenario): LadderInput {
  const chosen = scenario.settings.feedRate;
  const { state } = solvePoint(toCase(scenario));
  const limit = feedLimit(scenario, state.feedAtChoke * 1.02);
  const top = Math.min(state.feedAtChoke * 1.08, 1.9 * Math.max(chosen, limit?.value ?? 0));
  const feeds = Array.from({ length: POINTS }, (_, i) => top * Math.max(0.02, i / (POINTS - 1)));
  const points = feeds.map((feed) =>
    solvePoint(toCase(withValue(scenario, 'feedRate', feed)), { choke: false }),
  );
  const bands = bandsAlong(scenario, feeds);
  const rungs = RUNGS.map((name, index): Rung => {
    const quantity = quantityNamed(name)!;
    return {
      measure: quantityMeasure(name),
      values: points.map((point) =>
        point.status === 'steady' ? toShown(quantity.of(point), pageUnit(name)) : Number.NaN,
      ),
      limits: limitsOn(scenario, name),
      band: bands[index]!,
    };
  });
  return {
    feed: feeds.map((feed) => toShown(feed, 'kg/h')),
    rungs,
    chosen: toShown(chosen, 'kg/h'),
    chokesAt: toShown(state.feedAtChoke, 'kg/h'),
    ...(limit ? { limit: { feed: toShown(limit.value, 'kg/h'), words: endWords(scenario, limit) } } : {}),
  };
}

/** Feeds at which the spread is found, straight between them, and worlds at each: enough for the quarters. */
const COARSE = 9;
const WORLDS = 32;

/** The middle half of each rung over the worlds of the coefficients; a feed at which half of them choke has none. */
function bandsAlong(scenario: Scenario, feeds: readonly number[]): NonNullable<Rung['band']>[] {
  const posterior = posteriorOf(scenario);
  const worlds = worldsOf(posterior, WORLDS);
  const places = Array.from({ length: COARSE }, (_, i) =>
    Math.round((i * (feeds.length - 1)) / (COARSE - 1)),
  );
  const found = places.map((place) => {
    const at = withValue(scenario, 'feedRate', feeds[place]!);
    const points = worlds
      .map((world) => pointInWorld(at, posterior, world))
      .filter((point) => point.status === 'steady');
    return RUNGS.map((name) => {
      const values = points.map((point) => toShown(quantityNamed(name)!.of(point), pageUnit(name)));
      if (values.length * 2 < WORLDS) return { low: Number.NaN, high: Number.NaN };
      values.sort((a, b) => a - b);
      return { low: quantile(values, 0.25), high: quantile(values, 0.75) };
    });
  });
  return RUNGS.map((_, rung) => ({
    low: between(
      places,
      found.map((each) => each[rung]!.low),
    ),
    high: between(
      places,
      found.map((each) => each[rung]!.high),
    ),
  }));
}

/** Values at every place from first to last, straight between those given. */
function between(places: readonly number[], values: readonly number[]): number[] {
  return Array.from({ length: places.at(-1)! + 1 }, (_, i) => {
    const k = Math.max(
      1,
      places.findIndex((place) => place >= i),
    );
    const [from, to] = [places[k - 1]!, places[k]!];
    const share = (i - from) / (to - from);
    if (share === 1) return values[k]!;
    return share === 0 ? values[k - 1]! : values[k - 1]! * (1 - share) + values[k]! * share;
  });
}

/** Limits of the spec on one quantity, in its shown unit. */
function limitsOn({ spec }: Scenario, name: string): Rung['limits'] {
  const shownIn = pageUnit(name);
  return spec.flatMap((requirement) => {
    const { left, right, relation } = requirement;
    if (left.kind !== 'quantity' || left.name !== name || right.kind !== 'number') return [];
    const side = relation.startsWith('<') ? ('above' as const) : ('below' as const);
    return [{ at: toShown(right.value, shownIn), words: requirementWords(requirement), side }];
  });
}
