import type { LevelGrid, Position } from '../search/window/levels.ts';
import { latticeOf, sliceOf } from '../search/window/levels.ts';
import {
  type MarginBand,
  type OperatingWindow,
  operatingWindow,
  type PlaneFields,
} from '../search/window/window.ts';
import { levelsOver } from './contour-levels.ts';
import type { SweepTable, TableQuantity } from './sweep-table.ts';
import { quantityOf } from './sweep-table.ts';

export { valueAtPosition } from '../search/window/levels.ts';
export { CHOKE, operatingWindow, RIM } from '../search/window/window.ts';

/** Bands at most. */
const BANDS = 8;

/**
 * Levels of a quantity over the whole sweep, so that colours keep their meaning from slice to slice; from its fifth to
 * its ninety-fifth percentile, so that a few wild points do not take all colours.
 */
export function levelsOf({ values, logarithmic }: TableQuantity): number[] {
  const sorted = Float64Array.from(values as Float64Array)
    .filter(Number.isFinite)
    .sort();
  if (sorted.length === 0) return [];
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))]!;
  return levelsOver(at(0.05), at(0.95), logarithmic, BANDS);
}

/** Where limits may lie, by their names. */
export type Bands = Readonly<Record<string, MarginBand>>;

function withBand(band: MarginBand | undefined): { band?: MarginBand } {
  return band ? { band } : {};
}

/** The same plane with bands about its limits. */
export function banded(plane: PlaneFields, bands: Bands): PlaneFields {
  return { ...plane, limits: plane.limits.map((limit) => ({ ...limit, ...withBand(bands[limit.name]) })) };
}

/** The plane of two factors through a sweep, the other factors where `at` says. */
export function planeOf(
  table: SweepTable,
  grid: LevelGrid,
  axes: readonly [x: string, y: string],
  at: Position,
  quantity: string,
  bands: Bands = {},
): PlaneFields {
  const [x, y] = axes;
  const slice = (column: ArrayLike<number>) => sliceOf(grid, column, x, y, at);
  const shown = quantityOf(table, quantity);
  return {
    lattice: latticeOf(grid, x, y),
    quantity: slice(shown.values),
    logarithmic: shown.logarithmic,
    limits: table.limits.map(({ name, values }) => ({
      name,
      margin: slice(values),
      ...withBand(bands[name]),
    })),
    ...(table.steady ? { steady: slice(table.steady) } : {}),
  };
}

/** The operating window of a sweep at a position. */
export function sweepWindow(
  table: SweepTable,
  grid: LevelGrid,
  axes: readonly [x: string, y: string],
  at: Position,
  quantity: string,
  levels: readonly number[],
  bands: Bands = {},
): OperatingWindow {
  return operatingWindow(planeOf(table, grid, axes, at, quantity, bands), levels);
}

/** The two factors a window shows at first: wheel speed against rotor speed, else the first two numbers. */
export function firstAxes(table: SweepTable, grid: LevelGrid): readonly [string, string] | undefined {
  const numbers = grid.factors
    .filter(({ kind, levels }) => kind === 'number' && levels.length > 1)
    .map(({ path }) => path);
  return table.points > 0 ? axesAmong(numbers) : undefined;
}

/** Wheel speed against rotor speed, else the first two of some paths; nothing where there are fewer. */
export function axesAmong(paths: readonly string[]): readonly [string, string] | undefined {
  const wanted = ['wheelSpeed', 'rotorSpeed'].filter((path) => paths.includes(path));
  const [x, y] = [...wanted, ...paths.filter((path) => !wanted.includes(path))];
  return x !== undefined && y !== undefined ? [x, y] : undefined;
}

/** Why the choked part of a sweep chokes, by the commonest reason. */
export function commonReason({ reason, reasons }: SweepTable): string {
  const counts = reasons.map(() => 0);
  for (let row = 0; row < reason.length; row++) {
    const place = reason[row]!;
    if (!Number.isNaN(place)) counts[place]!++;
  }
  const most = counts.indexOf(Math.max(...counts, 0));
  return REASON_WORDS[reasons[most] ?? ''] ?? reasons[most] ?? '';
}

const REASON_WORDS: Readonly<Record<string, string>> = {
  load: 'more solids than the air is assumed to carry',
  fold: 'more returns than was sent round, at every load',
  'grind limit': 'particles too small to break are held back',
};
