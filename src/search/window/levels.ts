import { type Field, type Lattice, nodes, place } from './lattice.ts';

/** Values of one factor over the points of a sweep; NaN, or no name, where the factor changes nothing. */
export interface FactorColumn {
  readonly path: string;
  readonly values: ArrayLike<number | string | undefined>;
}

/** A factor's levels: numbers ascending, or names in order of appearance. */
export type Levels =
  | { readonly path: string; readonly kind: 'number'; readonly levels: Float64Array }
  | { readonly path: string; readonly kind: 'name'; readonly levels: readonly string[] };

/** A sweep that is a grid: every point found by its levels. */
export interface LevelGrid {
  readonly factors: readonly Levels[];
  /** Row of the sweep at a combination of levels, first factor fastest; −1 where none was run. */
  readonly rows: Int32Array;
}

/** Most places of the grid that may stay empty before a sweep counts as scattered. */
const FULLEST = 4;

/**
 * Recognises a grid in a sweep's factor columns, whatever the order of its points.
 *
 * @returns undefined where the points are scattered (sobol, latin-hypercube, lists) or there is none
 */
export function gridOf(factors: readonly FactorColumn[], points: number): LevelGrid | undefined {
  if (points === 0 || factors.length === 0) return undefined;
  const levels = factors.map((factor) => levelsOf(factor, points));
  const size = levels.reduce((product, each) => product * each.levels.length, 1);
  if (size > FULLEST * points) return undefined;
  const rows = new Int32Array(size).fill(-1);
  const indices = levels.map((each) => new Map([...each.levels].map((level, index) => [level, index])));
  for (let row = 0; row < points; row++) {
    let places = [0];
    let stride = 1;
    for (let f = 0; f < factors.length; f++) {
      const index = indices[f]!.get(factors[f]!.values[row]! as never);
      const own = index === undefined ? [...indices[f]!.values()] : [index];
      places = places.flatMap((at) => own.map((each) => at + stride * each));
      stride *= levels[f]!.levels.length;
    }
    for (const at of places) rows[at] = row;
  }
  return { factors: levels, rows };
}

function levelsOf({ path, values }: FactorColumn, points: number): Levels {
  const seen = new Set<number | string>();
  for (let row = 0; row < points; row++) {
    const value = values[row];
    if (value !== undefined && !Number.isNaN(value)) seen.add(value);
  }
  const all = [...seen];
  if (all.some((each) => typeof each === 'string')) return { path, kind: 'name', levels: all.map(String) };
  return { path, kind: 'number', levels: Float64Array.from(all as number[]).sort() };
}

/** Where the factors stand: a number between levels, or a name. */
export type Position = Readonly<Record<string, number | string>>;

/**
 * One column of a grid sweep on the plane of two factors, linear between the levels of all others.
 *
 * @param column one value a point, NaN where it does not exist
 * @param x path of the factor along x; its levels are the lattice's
 * @param y path of the factor along y
 * @param at where all other factors stand; a name that is no level gives a field of NaN
 */
export function sliceOf(
  grid: LevelGrid,
  column: ArrayLike<number>,
  x: string,
  y: string,
  at: Position,
): Field {
  const lattice = latticeOf(grid, x, y);
  const field = new Float64Array(nodes(lattice));
  const strides = stridesOf(grid);
  const xAt = indexOf(grid, x);
  const yAt = indexOf(grid, y);
  const bases = cornersOf(grid, strides, at, [xAt, yAt]);
  let k = 0;
  for (let j = 0; j < lattice.y.length; j++) {
    for (let i = 0; i < lattice.x.length; i++) {
      field[k++] = blend(grid, column, bases, i * strides[xAt]! + j * strides[yAt]!);
    }
  }
  return field;
}

/** Value of a column at a position, linear between levels of every factor; NaN where a needed point has none. */
export function valueAtPosition(grid: LevelGrid, column: ArrayLike<number>, at: Position): number {
  return blend(grid, column, cornersOf(grid, stridesOf(grid), at, []), 0);
}

/** The lattice of two factors' levels. */
export function latticeOf(grid: LevelGrid, x: string, y: string): Lattice {
  return { x: numbersOf(grid, x), y: numbersOf(grid, y) };
}

/** Levels of a factor that is a number. */
export function numbersOf(grid: LevelGrid, path: string): Float64Array {
  const factor = grid.factors[indexOf(grid, path)]!;
  if (factor.kind !== 'number') throw new Error(`${path} is not a number`);
  return factor.levels;
}

function indexOf(grid: LevelGrid, path: string): number {
  const index = grid.factors.findIndex((factor) => factor.path === path);
  if (index < 0) throw new Error(`${path} is not a factor of this sweep`);
  return index;
}

function stridesOf(grid: LevelGrid): number[] {
  const strides: number[] = [];
  let stride = 1;
  for (const factor of grid.factors) {
    strides.push(stride);
    stride *= factor.levels.length;
  }
  return strides;
}

/** An offset into `rows` with its weight. */
interface Corner {
  readonly offset: number;
  readonly weight: number;
}

function cornersOf(
  grid: LevelGrid,
  strides: readonly number[],
  at: Position,
  free: readonly number[],
): readonly Corner[] {
  let corners: Corner[] = [{ offset: 0, weight: 1 }];
  grid.factors.forEach((factor, f) => {
    if (free.includes(f)) return;
    const stride = strides[f]!;
    const value = at[factor.path];
    if (factor.kind === 'name') {
      const level = factor.levels.indexOf(String(value));
      corners =
        level < 0 ? [] : corners.map(({ offset, weight }) => ({ offset: offset + level * stride, weight }));
      return;
    }
    const [index, share] = place(factor.levels, Number(value));
    corners = corners.flatMap(({ offset, weight }) => [
      ...(share < 1 ? [{ offset: offset + index * stride, weight: weight * (1 - share) }] : []),
      ...(share > 0 ? [{ offset: offset + (index + 1) * stride, weight: weight * share }] : []),
    ]);
  });
  return corners;
}

function blend(
  grid: LevelGrid,
  column: ArrayLike<number>,
  corners: readonly Corner[],
  shift: number,
): number {
  if (corners.length === 1) {
    const row = grid.rows[corners[0]!.offset + shift]!;
    return row < 0 ? Number.NaN : column[row]!;
  }
  let sum = 0;
  let weights = 0;
  for (const { offset, weight } of corners) {
    const row = grid.rows[offset + shift]!;
    if (row < 0) return Number.NaN;
    sum += column[row]! * weight;
    weights += weight;
  }
  return weights === 0 ? Number.NaN : sum;
}
