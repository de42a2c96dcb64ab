import type { Fault } from '../errors.ts';
import { type DecimalSign, parseNumber } from './cell-number.ts';
import type { Layout } from './column-layout.ts';
import type { Place } from './heading.ts';
import type { SizeUnit } from './measured-sample.ts';
import { type Question, question, type ReadOptions } from './reading-questions.ts';
import { readSize, type SizeCell, toMetres } from './size-cell.ts';
import type { FoundTable } from './tables-in-file.ts';

/** One row of a table: its size or class [m] and its values by column of the layout. */
export interface Row {
  readonly lower?: number;
  readonly upper?: number;
  readonly size?: number;
  /** Value of each of `layout.values`; NaN where the cell is empty. */
  readonly values: readonly number[];
  readonly checks: readonly number[];
  readonly sample: string;
  /** Where it stands, for messages: `line 34`. */
  readonly at: string;
  /** Whether the row is a pan: what passed the finest sieve. */
  readonly pan: boolean;
}

/**
 * Rows of a table with sizes in metres, ascending, and everything wrong with them: a cell that is no number, a size below
 * 0, a size twice, sizes out of order. A question for the unit is noted and the reading goes on, so that all questions come at once.
 *
 * @param remarks words around the table, where the unit may stand
 */
export function readRows(
  table: FoundTable,
  layout: Layout,
  remarks: readonly string[],
  decimal: DecimalSign,
  options: ReadOptions,
  place: string,
): { readonly rows: Row[]; readonly faults: readonly (Fault | Question)[] } {
  const stated = options.unit ?? unitOf(layout, remarks);
  const faults: (Fault | Question)[] = [];
  const rows: Row[] = [];
  const file = place.replace(/ \(line \d+\)$/, '');
  for (const [i, cells] of table.body.entries()) {
    const at = table.places[i]!;
    const where = `${file} (${at})`;
    const sizes = sizesIn(cells, layout, decimal);
    if (typeof sizes === 'string') {
      faults.push({ place: where, message: sizes });
      continue;
    }
    const bad = badCell(cells, layout, decimal);
    if (bad) faults.push({ place: where, message: bad });
    const scale = (value: number, unit: SizeUnit | undefined): number => {
      if (!unit) faults.push(question(place, 'the unit of the sizes is not stated', 'unit'));
      const metres = toMetres(value, unit ?? 'um', options, place);
      if (typeof metres === 'number') return metres;
      faults.push(metres);
      // a mesh number falls where the size rises: the order is kept for the questions that follow
      return 1 / value;
    };
    const numbers = (columns: readonly number[]) => columns.map((k) => parseNumber(cells[k] ?? '', decimal));
    const sample = layout.sample === undefined ? '' : (cells[layout.sample] ?? '');
    const ends = scaled(sizes, stated, scale);
    const negative = [ends.lower, ends.upper, ends.size].find((value) => value !== undefined && value < 0);
    if (negative !== undefined)
      faults.push({ place: where, message: `a size must be above 0, is ${cells[layout.sizes[0]!]}` });
    rows.push({
      ...ends,
      values: numbers(layout.values),
      checks: numbers(layout.checks),
      sample,
      at,
      pan: sizes.some(({ pan }) => pan),
    });
  }
  const named = withPan(rows);
  faults.push(...disorder(named, file));
  return { rows: named.sort((a, b) => keyOf(a) - keyOf(b)), faults };
}

/** `< 0.063` below a sieve of 0.063 is its pan. */
function withPan(rows: readonly Row[]): Row[] {
  const sieves = new Set(rows.flatMap(({ size }) => (size === undefined ? [] : [size])));
  return rows.map((row) => {
    if (row.lower !== 0 || row.upper === undefined || !sieves.has(row.upper)) return row;
    const { lower: _lower, upper: _upper, ...rest } = row;
    return { ...rest, size: 0, lower: 0, pan: true };
  });
}

/** Sizes of a row, or what is wrong with their cell, in words. */
function sizesIn(cells: readonly string[], layout: Layout, decimal: DecimalSign): SizeCell[] | string {
  const sizes: SizeCell[] = [];
  for (const column of layout.sizes) {
    const text = cells[column] ?? '';
    const size = readSize(text, decimal);
    const ends = size ? [size.lower, size.upper, size.size].filter((value) => value !== undefined) : [];
    if (!size || ends.some(Number.isNaN))
      return text === ''
        ? 'the size is missing'
        : `"${shown(text)}" is no size; correct it or take the row out`;
    sizes.push(size);
  }
  return sizes;
}

/** A filled cell under a column of values that holds no number, in words. */
function badCell(cells: readonly string[], layout: Layout, decimal: DecimalSign): string | undefined {
  for (const column of [...layout.values, ...layout.checks]) {
    const text = cells[column] ?? '';
    if (text === '' || Number.isFinite(parseNumber(text, decimal))) continue;
    const heading = layout.headings[column]!.text;
    return `"${shown(text)}" under ${heading || `column ${column + 1}`} is no number; correct it or take the row out`;
  }
  return undefined;
}

function shown(text: string): string {
  return text.slice(0, 40);
}

type Ends = Pick<Row, 'lower' | 'upper' | 'size'>;

function scaled(
  sizes: readonly SizeCell[],
  stated: SizeUnit | undefined,
  scale: (value: number, unit: SizeUnit | undefined) => number,
): Ends {
  const unit = sizes.find((cell) => cell.unit)?.unit ?? stated;
  const metres = (value: number): number =>
    value === 0 || !Number.isFinite(value) ? value : scale(value, unit);
  if (sizes.length === 2) return { lower: metres(sizes[0]!.size!), upper: metres(sizes[1]!.size!) };
  const { lower, upper, size } = sizes[0]!;
  return {
    ...(lower === undefined ? {} : { lower: metres(lower) }),
    ...(upper === undefined ? {} : { upper: metres(upper) }),
    ...(size === undefined ? {} : { size: metres(size) }),
  };
}

/** Sizes given twice, and sizes that turn back: a slip in a size would else be sorted to where it does harm unseen. */
function disorder(rows: readonly Row[], file: string): Fault[] {
  const faults: Fault[] = [];
  for (const sample of new Set(rows.map((row) => row.sample))) {
    const own = rows.filter(
      (row) => row.sample === sample && !row.pan && keyOf(row) > 0 && row.upper !== Number.POSITIVE_INFINITY,
    );
    const seen = new Map<number, string>();
    for (const row of own) {
      const key = keyOf(row);
      const before = seen.get(key);
      if (before !== undefined)
        faults.push({
          place: `${file} (${row.at})`,
          message: `has the same size as ${before}; keep one, or name samples in a column of their own`,
        });
      seen.set(key, row.at);
    }
    const steps = own.slice(1).map((row, i) => Math.sign(keyOf(row) - keyOf(own[i]!)));
    const way = Math.sign(steps.reduce((sum, step) => sum + step, 0)) || 1;
    const turned = steps.indexOf(-way);
    if (turned >= 0)
      faults.push({
        place: `${file} (${own[turned + 1]!.at})`,
        message: `the sizes ${way > 0 ? 'rise' : 'fall'}, and here they turn back; correct the size, or sort the rows`,
      });
  }
  return faults;
}

function keyOf(row: Row): number {
  return row.size ?? row.lower ?? row.upper ?? 0;
}

function unitOf(layout: Layout, remarks: readonly string[]): SizeUnit | undefined {
  const heading = layout.headings[layout.sizes[0]!]!;
  if (heading.unit) return heading.unit;
  const line = remarks.find((text) =>
    /size|diamet|durchmesser|korngr|unit|einheit|opening|sieve|maschenweite/i.test(text),
  );
  const word = line && /(nm|[µμu]m|mm|mesh)(?![a-z])/i.exec(line)?.[1]?.toLowerCase();
  if (!word) return undefined;
  return word === 'nm' || word === 'mm' || word === 'mesh' ? word : 'um';
}

/**
 * Where in its class a size lies, as stated by option, heading, a pan or the sieve's own habit (retained on its opening).
 */
export function placeOf(
  layout: Layout,
  column: number,
  sieve: boolean,
  pan: boolean,
  options: ReadOptions,
): Place | undefined {
  if (options.sizes) return options.sizes;
  const heading = layout.headings[layout.sizes[0]!]!;
  if (heading.place) return heading.place;
  const role = layout.headings[column]!.role;
  if (pan || role === 'retained' || role === 'mass' || sieve) return 'lower';
  return undefined;
}
