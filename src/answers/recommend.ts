import { evaluate } from '../scenario/expression/expression.ts';
import type { Factor, Scenario } from '../scenario/scenario.ts';
import { fromShown, toShown } from '../scenario/units/display.ts';
import { type Change, changedScenario } from './change.ts';
import { BY_RANGE, type End, feedLimit, relativeMargins, standingOf } from './reach.ts';
import { endsOf, factorSi, type SweepTable } from './sweep-table.ts';
import { pageUnit } from './words.ts';

/** The settings a report puts forward. */
export interface Recommendation {
  readonly meets: boolean;
  /** What lies between the file and these settings. */
  readonly changes: readonly Change[];
  readonly scenario: Scenario;
  /** Highest feed at these settings, where the goal is feed: the rate without margin. */
  readonly limit?: End;
}

/** Share of the feed limit put forward: the rest is kept in hand. */
export const IN_HAND = 0.1;
/** Combinations of the sweep looked at more closely with the model. */
const CANDIDATES = 12;

/**
 * The best point of a sweep: where the goal is to feed the most, 10 % below the highest feed that meets everything at the
 * best of the other settings; else the point with the best goal, or without a goal the one that stands farthest from all
 * limits. Where no point meets the spec, the nearest.
 */
export function recommend(scenario: Scenario, factors: readonly Factor[], table: SweepTable): Recommendation {
  const meeting = rowsMeeting(table);
  if (meeting.length === 0) return nearest(scenario, factors, table);
  if (goalIsFeed(scenario) && table.factors.some(({ path }) => path === 'feedRate')) {
    return mostFeed(scenario, factors, table, meeting);
  }
  const worst = worstMargins(scenario, table);
  const goal = goalColumn(scenario, table) ?? worst;
  const [best] = ranked(meeting, goal, worst);
  return at(scenario, changesOf(factors, table, best!));
}

function at(scenario: Scenario, changes: readonly Change[]): Recommendation {
  const changed = changedScenario(scenario, changes, 'the sweep');
  return { meets: standingOf(changed).meets, changes, scenario: changed };
}

/** Whether the goal is the highest feed. */
function goalIsFeed({ goal }: Scenario): boolean {
  return (
    goal?.sense === 'maximise' && goal.expression.kind === 'quantity' && goal.expression.name === 'feedRate'
  );
}

/** Rows at which every limit is met. */
function rowsMeeting(table: SweepTable): number[] {
  return Array.from({ length: table.points }, (_, row) => row).filter(
    (row) => Number.isNaN(table.reason[row]!) && table.limits.every(({ values }) => values[row]! >= 0),
  );
}

/** A row's factor values as changes, SI; factors that change nothing there are left out. */
function changesOf(factors: readonly Factor[], table: SweepTable, row: number): Change[] {
  return table.factors.flatMap((factor, j): Change[] => {
    const value = factor.values[row]!;
    if (Number.isNaN(value)) return [];
    const { as } = factors[j]!;
    const si = factor.names ? factor.names[value]! : factorSi(factor, value);
    return [{ path: factor.path, value: si, ...(as ? { as } : {}) }];
  });
}

function mostFeed(
  scenario: Scenario,
  factors: readonly Factor[],
  table: SweepTable,
  meeting: readonly number[],
): Recommendation {
  const feed = table.factors.find(({ path }) => path === 'feedRate')!;
  const worst = worstMargins(scenario, table);
  const ordered = ranked(meeting, feed.values, worst);
  const top = factorSi(feed, endsOf(feed.values)[1]);
  let best: Recommendation | undefined;
  for (const row of distinct(table, ordered).slice(0, CANDIDATES)) {
    const changes = changesOf(factors, table, row).filter(({ path }) => path !== 'feedRate');
    const limit = withinRange(feedLimit(changedScenario(scenario, changes), top * 1.2), top);
    if (!limit || (best?.limit && limit.value <= best.limit.value)) continue;
    best = { ...withFeed(scenario, changes, limit), limit };
  }
  return best ?? at(scenario, changesOf(factors, table, ordered[0]!));
}

/** Beyond the feeds swept nothing is promised. */
function withinRange(limit: End | undefined, top: number): End | undefined {
  return limit && limit.value > top ? { value: top, by: BY_RANGE } : limit;
}

function withFeed(scenario: Scenario, changes: readonly Change[], limit: End): Recommendation {
  const share = limit.by === BY_RANGE ? 1 : 1 - IN_HAND;
  const value = fromShown(roundDown(toShown(limit.value * share, 'kg/h')), 'kg/h');
  return at(scenario, [...changes, { path: 'feedRate', value }]);
}

/** To two digits, or steps of five in the third. */
function roundDown(value: number): number {
  const step = 10 ** Math.floor(Math.log10(value)) / 20;
  return Math.floor(value / step + 1e-9) * step;
}

/** Rows by a number, the largest first; among equals the one farthest from its limits. */
function ranked(rows: readonly number[], by: ArrayLike<number>, worst: Float64Array): number[] {
  return [...rows].sort((a, b) => by[b]! - by[a]! || worst[b]! - worst[a]!);
}

/** The first row of each combination of the other factors. */
function distinct(table: SweepTable, rows: readonly number[]): number[] {
  const others = table.factors.filter(({ path }) => path !== 'feedRate');
  const seen = new Set<string>();
  return rows.filter((row) => {
    const key = others.map(({ values }) => values[row]).join(' ');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** The goal at every row, larger better, −Infinity where it does not exist; undefined where there is none or the sweep did not store what it needs. */
function goalColumn({ goal }: Scenario, table: SweepTable): Float64Array | undefined {
  if (!goal) return undefined;
  const stored = [...table.quantities, ...(table.settings ?? [])];
  const value = (name: string, row: number): number | undefined => {
    const quantity = stored.find(({ of }) => of === name);
    if (quantity) return fromShown(quantity.values[row]!, pageUnit(name));
    const factor = table.factors.find(({ path, names }) => path === name && !names);
    return factor && factorSi(factor, factor.values[row]!);
  };
  let known = true;
  const goals = Float64Array.from({ length: table.points }, (_, row) =>
    evaluate(goal.expression, (name, argument) => {
      const found = argument === undefined ? value(name, row) : undefined;
      known &&= found !== undefined;
      return found ?? Number.NaN;
    }),
  );
  if (!known) return undefined;
  const sense = goal.sense === 'maximise' ? 1 : -1;
  return goals.map((value) => (Number.isNaN(value) ? Number.NEGATIVE_INFINITY : sense * value));
}

/** At every row the smallest margin, each over the size of its limit; −Infinity where it chokes. */
function worstMargins({ spec }: Scenario, table: SweepTable): Float64Array {
  const scales = table.limits.map(({ name }) => {
    const requirement = spec.find(({ text }) => text === name);
    if (requirement?.right.kind !== 'number') return 100;
    const limit = Math.abs(toShown(requirement.right.value, requirement.shownIn));
    if (requirement.shownIn === '%' && limit > 50 && limit < 100) return 100 - limit;
    return limit || 1;
  });
  return Float64Array.from({ length: table.points }, (_, row) => {
    if (!Number.isNaN(table.reason[row]!)) return Number.NEGATIVE_INFINITY;
    return Math.min(...table.limits.map(({ values }, k) => values[row]! / scales[k]!));
  });
}

function nearest(scenario: Scenario, factors: readonly Factor[], table: SweepTable): Recommendation {
  const worst = worstMargins(scenario, table);
  let row = 0;
  for (let each = 1; each < worst.length; each++) if (worst[each]! > worst[row]!) row = each;
  return at(scenario, changesOf(factors, table, row));
}

/** The limit that fails by most at settings that do not meet the spec. */
export function worstLine(scenario: Scenario): number {
  const relative = relativeMargins(scenario, standingOf(scenario));
  return relative.indexOf(Math.min(...relative));
}
