import { type LevelGrid, numbersOf, type Position, valueAtPosition } from '../../search/window/levels.ts';
import { label } from '../escape.ts';
import type { RidgeInput, RidgeLine } from '../figures/ridge.ts';
import type { SweepTable } from './sweep-table.ts';

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
  const numbers = grid.factors.filter(({ kind }) => kind === 'number').map(({ path }) => path);
  if (!numbers.includes('feedRate') || !numbers.includes(x) || x === 'feedRate') return undefined;
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
      feed: at.map(({ feed }) => feed),
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
export const END_OF_SWEEP = 'highest feed swept';

function highestFeed(table: SweepTable, grid: LevelGrid, at: Position): Highest {
  const feeds = numbersOf(grid, 'feedRate');
  const margins = (feed: number) =>
    table.limits.map(({ values }) => valueAtPosition(grid, values, { ...at, feedRate: feed }));
  const rows = [...feeds].map(margins);
  const meets = rows.map((row) => row.every((margin) => margin >= 0));
  const last = meets.lastIndexOf(true);
  if (last < 0) return NONE;
  if (last === feeds.length - 1) return { feed: feeds[last]!, binding: END_OF_SWEEP };
  const [below, above] = [rows[last]!, rows[last + 1]!];
  let first: Highest = { feed: feeds[last + 1]!, binding: 'choking' };
  let nearest = Number.POSITIVE_INFINITY;
  table.limits.forEach(({ topic }, k) => {
    const share = below[k]! / (below[k]! - above[k]!);
    if (above[k]! < 0 && share < nearest) {
      nearest = share;
      first = { feed: feeds[last]! + share * (feeds[last + 1]! - feeds[last]!), binding: topic };
    }
  });
  return Number.isFinite(nearest) ? first : { feed: feeds[last]!, binding: 'choking' };
}
