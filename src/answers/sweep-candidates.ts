import { expressionValue } from '../scenario/outcome/spec.ts';
import type { Factor, Scenario } from '../scenario/scenario.ts';
import type { Candidate } from '../search/find/best-point.ts';
import { type Change, changedScenario } from './change.ts';
import { factorKind } from './factor-kind.ts';
import { type KeptFeed, keptFeed } from './kept-feed.ts';
import { oddsOf } from './odds.ts';
import { standingOf } from './standing.ts';
import { changesOf, distinct, goalColumn, ranked, scoresOf } from './sweep-ranking.ts';
import { endsOf, factorSi, type SweepTable } from './sweep-table.ts';

/** Rows looked at again with the model: by their margins, by their goal, of each wheel, and as the nearest miss. */
export const LOOKED_AT = { margin: 24, goal: 12, wheel: 3, nearest: 24 } as const;
/** Samples of the first look at every candidate. */
const QUICK = 32;

/** A candidate of a sweep: what to change, and how it stands. */
export interface SweepCandidate extends Candidate {
  readonly changes: readonly Change[];
  readonly scenario: Scenario;
  readonly kept?: KeptFeed;
}

/** Whether the goal is the highest feed. */
export function goalIsFeed({ goal }: Scenario): boolean {
  return (
    goal?.sense === 'maximise' && goal.expression.kind === 'quantity' && goal.expression.name === 'feedRate'
  );
}

/** What can be chosen of a row: settings and designs; measured properties stay as in the file. */
export function choicesOf(factors: readonly Factor[], table: SweepTable, row: number): Change[] {
  return changesOf(factors, table, row).filter(({ path }) => factorKind(path) !== 'property');
}

/** Points that meet the spec, judged again by the model with the file's own properties. */
export function candidatesOf(
  scenario: Scenario,
  factors: readonly Factor[],
  table: SweepTable,
  rows: readonly number[],
): SweepCandidate[] {
  const { worst } = scoresOf(scenario, table);
  const goal = goalColumn(scenario, table) ?? worst;
  const feed = table.factors.find(({ path }) => path === 'feedRate');
  const climbs = feed !== undefined && goalIsFeed(scenario);
  const properties = factors.map(({ path }) => path).filter((path) => factorKind(path) === 'property');
  const some = (order: readonly number[], count: number) =>
    distinct(table, order, properties).slice(0, count);
  const byMargin = ranked(rows, worst, worst);
  const byGoal = distinct(
    table,
    ranked(rows, goal, worst),
    climbs ? ['feedRate', ...properties] : properties,
  );
  const chosen = new Set([...some(byMargin, LOOKED_AT.margin), ...byGoal.slice(0, LOOKED_AT.goal)]);
  for (const wheel of wheelRows(table, byMargin))
    for (const row of some(wheel, LOOKED_AT.wheel)) chosen.add(row);
  if (!climbs) return [...chosen].flatMap((row) => candidate(scenario, choicesOf(factors, table, row)));
  for (const own of [
    byGoal.slice(0, LOOKED_AT.goal),
    ...wheelRows(table, byGoal).map((each) => each.slice(0, 1)),
  ])
    for (const row of own) chosen.add(row);
  const top = factorSi(feed, endsOf(feed.values)[1]);
  return distinct(table, [...chosen], ['feedRate', ...properties]).flatMap((row) => {
    const changes = choicesOf(factors, table, row).filter(({ path }) => path !== 'feedRate');
    const kept = keptFeed(changedScenario(scenario, changes), top);
    if (!kept) return [];
    // the feeds swept at the same other settings that keep the margin, and the highest that does
    const feeds = [...chosen].flatMap((each) => {
      const own = factorSi(feed, feed.values[each]!);
      return own < kept.feedRate && isSameBut(table, each, row, 'feedRate') ? [own] : [];
    });
    return [...new Set([...feeds, kept.feedRate])].flatMap((feedRate) =>
      candidate(scenario, [...changes, { path: 'feedRate', value: feedRate }], { ...kept, feedRate }),
    );
  });
}

/** Whether two rows have the same settings but for one factor; measured properties do not count. */
function isSameBut({ factors }: SweepTable, a: number, b: number, path: string): boolean {
  return factors.every(
    (factor) =>
      factor.path === path ||
      factorKind(factor.path) === 'property' ||
      Object.is(factor.values[a], factor.values[b]),
  );
}

/** Rows of each wheel, in the order given; nothing where the wheel is no factor. */
function wheelRows(table: SweepTable, rows: readonly number[]): number[][] {
  const wheel = table.factors.find(({ path, names }) => path === 'wheel' && names);
  if (!wheel) return [];
  return wheel
    .names!.map((_, place) => rows.filter((row) => wheel.values[row] === place))
    .filter((own) => own.length > 0);
}

function candidate(scenario: Scenario, changes: readonly Change[], kept?: KeptFeed): SweepCandidate[] {
  const changed = changedScenario(scenario, changes, 'the sweep');
  const standing = standingOf(changed);
  if (!standing.meets || standing.point.status === 'choked') return [];
  const margin = Math.min(...standing.relative);
  const { goal } = scenario;
  const value = goal ? expressionValue(goal.expression, standing.point) : margin;
  return [
    {
      changes,
      scenario: changed,
      margin,
      goal: goal?.sense === 'minimise' ? -value : value,
      meets: oddsOf(changed, QUICK).meets,
      ...(kept ? { kept } : {}),
    },
  ];
}

export const wheelOf = ({ scenario }: Pick<SweepCandidate, 'scenario'>): string => scenario.settings.wheel;
