import { toCase, withValue } from '../scenario/operating-point.ts';
import { quantityNamed } from '../scenario/outcome/quantities.ts';
import type { Solved } from '../scenario/outcome/quantity.ts';
import { type Point, solvePoint } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { endWords } from './limit-words.ts';
import { limitingFineness } from './limiting-quantity.ts';
import type { Measure } from './measure.ts';
import { feedLimit } from './reach.ts';
import { pageUnit, quantityMeasure, quantityParts, quantityText, requirementWords } from './words.ts';

/** One quantity against feed rate. */
export interface Rung {
  readonly measure: Measure;
  /** One value a feed rate; NaN where the mill chokes. */
  readonly values: readonly number[];
  /** Low and high ends of what the assumed or fitted coefficients allow; `Infinity` where it has no upper end, NaN where there is none. */
  readonly band?: { readonly low: readonly number[]; readonly high: readonly number[] };
  readonly limits: readonly {
    readonly at: number;
    readonly words: string;
    readonly side: 'above' | 'below';
  }[];
}

/** A machine's climb. */
export interface LadderInput {
  /** [kg/h], ascending. */
  readonly feed: readonly number[];
  readonly rungs: readonly Rung[];
  /** Feed of the settings shown [kg/h]. */
  readonly chosen: number;
  /** Highest feed that meets everything [kg/h], and what binds there; absent where none does. */
  readonly limit?: { readonly feed: number; readonly words: string };
  /** [kg/h] */
  readonly chokesAt: number;
  /** The same rungs on a second machine. */
  readonly other?: {
    readonly name: string;
    readonly feed: readonly number[];
    readonly rungs: readonly Rung[];
  };
}

/** What is shown against feed: the fineness that limits, motor, outlet and hold-up. */
export function rungNames(scenario: Scenario): readonly string[] {
  return [limitingFineness(scenario), 'motorLoad', 'outletTemperature', 'holdup'];
}
const POINTS = 25;

/** What happens as the feed is raised at the scenario's settings. */
export function ladderView(scenario: Scenario): LadderInput {
  const chosen = scenario.settings.feedRate;
  const { state } = solvePoint(toCase(scenario));
  const limit = feedLimit(scenario, state.feedAtChoke * 1.02);
  const top = Math.min(state.feedAtChoke * 1.08, 1.9 * Math.max(chosen, limit?.value ?? 0));
  const feeds = feedsUpTo(top);
  const points = feeds.map((feed) =>
    solvePoint(toCase(withValue(scenario, 'feedRate', feed)), { choke: false }),
  );
  const names = rungNames(scenario);
  const rungs = rungsOf(points, names).map(
    (rung, k): Rung => ({ ...rung, limits: limitsOn(scenario, names[k]!) }),
  );
  return {
    feed: feeds.map((feed) => toShown(feed, 'kg/h')),
    rungs,
    chosen: toShown(chosen, 'kg/h'),
    chokesAt: toShown(state.feedAtChoke, 'kg/h'),
    ...(limit ? { limit: { feed: toShown(limit.value, 'kg/h'), words: endWords(scenario, limit) } } : {}),
  };
}

/** Feeds from nearly none to the highest [kg/s]. */
export function feedsUpTo(highest: number): number[] {
  return Array.from({ length: POINTS }, (_, i) => highest * Math.max(0.02, i / (POINTS - 1)));
}

/** What is shown against feed, without limits; NaN where it chokes. */
export function rungsOf(points: readonly Point[], names: readonly string[]): Rung[] {
  return names.map((of) => ({
    measure: quantityMeasure(of),
    values: points.map((point) => (point.status === 'steady' ? shownOf(of, point) : Number.NaN)),
    limits: [],
  }));
}

/** A quantity as a column is named, at a solved point, in the unit shown. */
export function shownOf(of: string, point: Solved): number {
  const { name, argument } = quantityParts(of);
  return toShown(quantityNamed(name)!.of(point, argument), pageUnit(name));
}

/** Limits of the spec on one quantity, in its shown unit. */
export function limitsOn({ spec }: Scenario, of: string): Rung['limits'] {
  const shownIn = pageUnit(quantityParts(of).name);
  return spec.flatMap((requirement) => {
    const { left, right, relation } = requirement;
    if (left.kind !== 'quantity' || right.kind !== 'number') return [];
    if (quantityText(left.name, left.argument) !== of) return [];
    const side = relation.startsWith('<') ? ('above' as const) : ('below' as const);
    return [{ at: toShown(right.value, shownIn), words: requirementWords(requirement), side }];
  });
}
