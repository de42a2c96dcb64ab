import { toShown } from '../scenario/units/display.ts';
import { type LevelGrid, numbersOf, type Position, valueAtPosition } from '../search/window/levels.ts';
import type { Measure } from './measure.ts';
import { factorSi, type SweepTable } from './sweep-table.ts';
import { label } from './text.ts';

/** Highest feed that meets everything, along one factor, for one wheel (or rotor). */
export interface RidgeLine {
  readonly name: string;
  readonly x: readonly number[];
  /** [kg/h]; NaN where no feed meets the spec. */
  readonly feed: readonly number[];
  /** What binds at each place, in words. */
  readonly binding: readonly string[];
}

export interface RidgeInput {
  readonly x: Measure;
  readonly lines: readonly RidgeLine[];
  /** What the highest feed holds within; everything unless said. */
  readonly within?: string;
  /** What a line stands for; a wheel unless said. */
  readonly of?: 'wheel' | 'rotor';
}

/** Highest feed of a sweep's column of feeds that meets everything, and what ends it. */
interface Highest {
  /** In the sweep's unit; NaN where no feed meets everything. */
  readonly feed: number;
  readonly binding: string;
}

/**
 * Highest feed that meets everything along one factor, one line a wheel, the other numbers at their best level; from the
 * sweep's own points, straight between feeds.
 *
 * @returns undefined where the sweep has no feed, or no such factor
 */
export function ridgeOf(table: SweepTable, grid: LevelGrid, x: string): RidgeInput | undefined {
  const feeds = table.factors.find(({ path }) => path === 'feedRate');
  const numbers = grid.factors.filter(({ kind }) => kind === 'number').map(({ path }) => path);
  if (!feeds || !numbers.includes('feedRate') || !numbers.includes(x) || x === 'feedRate') return undefined;
  if (numbersOf(grid, 'feedRate').length < 2) return undefined;
  const wheels = grid.factors.find(({ path, kind }) => path === 'wheel' && kind === 'name');
  const others = numbers.filter((path) => path !== x && path !== 'feedRate');
  const combinations = others.reduce<Position[]>(
    (all, path) => all.flatMap((at) => [...numbersOf(grid, path)].map((value) => ({ ...at, [path]: value }))),
    [{}],
  );
  const names = wheels ? (wheels.levels as readonly string[]) : [undefined];
  const lines = names.map((name): RidgeLine => {
    const at = [...numbersOf(grid, x)].map((value) =>
      bestOf(
        combinations.map((others) => {
          const position = { ...others, [x]: value, ...(name === undefined ? {} : { wheel: name }) };
          return highestFeed(table, grid, position);
        }),
      ),
    );
    return {
      name: name === undefined ? 'this wheel' : label(name),
      x: [...numbersOf(grid, x)],
      feed: at.map(({ feed }) => toShown(factorSi(feeds, feed), 'kg/h')),
      binding: at.map(({ binding }) => binding),
    };
  });
  return { x: table.factors.find(({ path }) => path === x)!.measure, lines };
}

function bestOf(all: readonly Highest[]): Highest {
  return all.reduce(
    (best, each) => (!(best.feed >= each.feed) && !Number.isNaN(each.feed) ? each : best),
    NONE,
  );
}

const NONE: Highest = { feed: Number.NaN, binding: '' };
/** Words where the highest feed swept still meets everything. */
const END_OF_SWEEP = 'highest feed swept';

function highestFeed(table: SweepTable, grid: LevelGrid, at: Position): Highest {
  const feeds = [...numbersOf(grid, 'feedRate')];
  const rows = feeds.map((feed) =>
    table.limits.map(({ values }) => valueAtPosition(grid, values, { ...at, feedRate: feed })),
  );
  const last = rows.findLastIndex((row) => row.every((margin) => margin >= 0));
  if (last < 0) return NONE;
  if (last === feeds.length - 1) return { feed: feeds[last]!, binding: END_OF_SWEEP };
  let first = chokesBetween(table, grid, at, feeds, last, rows[last + 1]!);
  table.limits.forEach(({ topic }, k) => {
    const feed = crossing(
      feeds,
      rows.map((row) => row[k]!),
      last,
    );
    if (feed < first.feed) first = { feed, binding: topic };
  });
  return first;
}

/**
 * Where the mill chokes before the next feed of the sweep: at the feed at choke stored with that point. Without one a next point
 * of which any margin is known runs.
 */
function chokesBetween(
  { steady }: SweepTable,
  grid: LevelGrid,
  at: Position,
  feeds: readonly number[],
  last: number,
  margins: readonly number[],
): Highest {
  const next = feeds[last + 1]!;
  if (!steady && margins.some((each) => !Number.isNaN(each)))
    return { feed: Number.POSITIVE_INFINITY, binding: 'choking' };
  const margin = steady ? valueAtPosition(grid, steady, { ...at, feedRate: next }) : Number.NaN;
  if (Number.isNaN(margin)) return { feed: feeds[last]!, binding: 'choking' };
  const feed = Math.max(feeds[last]!, (1 + margin) * next);
  return { feed: margin < 0 ? feed : Number.POSITIVE_INFINITY, binding: 'choking' };
}

/** Feed past `last` at which a margin runs out: straight to the next feed, or on from the last two where that one chokes. */
function crossing(feeds: readonly number[], margins: readonly number[], last: number): number {
  const [here, next, before] = [margins[last]!, margins[last + 1]!, margins[last - 1] ?? Number.NaN];
  const onward = Number.isNaN(next);
  const step = onward ? feeds[last]! - (feeds[last - 1] ?? Number.NaN) : feeds[last + 1]! - feeds[last]!;
  const fall = onward ? before - here : here - next;
  return fall > 0 && here >= 0 ? feeds[last]! + (here / fall) * step : Number.POSITIVE_INFINITY;
}
