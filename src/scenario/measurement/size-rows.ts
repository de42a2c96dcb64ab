import type { Fault } from '../errors.ts';
import { type DecimalSign, parseNumber } from './cell-number.ts';
import type { Layout } from './column-layout.ts';
import type { Place } from './heading.ts';
import type { SizeUnit } from './measured-sample.ts';
import { question, type ReadOptions } from './read-options.ts';
import { readSize, toMetres } from './size-cell.ts';

/** One row of a table: its size or class [m] and its values by column of the layout. */
export interface Row {
  readonly lower?: number;
  readonly upper?: number;
  readonly size?: number;
  /** Value of each of `layout.values`; NaN where the cell is empty. */
  readonly values: readonly number[];
  readonly checks: readonly number[];
  readonly sample: string;
}

/**
 * Rows of a table with sizes in metres, ascending.
 *
 * @param remarks words around the table, where the unit may stand
 * @returns the rows, or every open question
 */
export function readRows(
  body: readonly (readonly string[])[],
  layout: Layout,
  remarks: readonly string[],
  decimal: DecimalSign,
  options: ReadOptions,
  place: string,
): Row[] | Fault[] {
  const stated = options.unit ?? unitOf(layout, remarks);
  const faults = new Map<string, Fault>();
  const rows: Row[] = [];
  for (const cells of body) {
    const size = layout.sizes.map((column) => readSize(cells[column] ?? '', decimal));
    if (size.some((cell) => cell === undefined)) continue;
    const unit = size.find((cell) => cell!.unit)?.unit ?? stated;
    const scaled = (value: number | undefined): number | undefined => {
      if (value === undefined) return undefined;
      if (!unit && value !== 0 && Number.isFinite(value)) {
        faults.set('unit', question(place, 'the unit of the sizes is not stated', 'unit'));
        return value;
      }
      const metres = toMetres(value, unit ?? 'um', options);
      if (typeof metres === 'number') return metres;
      faults.set(metres, { place, message: metres });
      return value;
    };
    const ends =
      size.length === 2
        ? { lower: scaled(size[0]!.size)!, upper: scaled(size[1]!.size)! }
        : defined({
            lower: scaled(size[0]!.lower),
            upper: scaled(size[0]!.upper),
            size: scaled(size[0]!.size),
          });
    const numbers = (columns: readonly number[]) => columns.map((i) => parseNumber(cells[i] ?? '', decimal));
    const sample = layout.sample === undefined ? '' : (cells[layout.sample] ?? '');
    rows.push({ ...ends, values: numbers(layout.values), checks: numbers(layout.checks), sample });
  }
  if (faults.size > 0) return [...faults.values()];
  return rows.sort((a, b) => keyOf(a) - keyOf(b));
}

function defined(
  ends: Record<'lower' | 'upper' | 'size', number | undefined>,
): Partial<Record<string, number>> {
  return Object.fromEntries(Object.entries(ends).filter(([, value]) => value !== undefined)) as Record<
    string,
    number
  >;
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

/** Where in its class a size lies, as stated by option, heading or the sieve's own habit (retained on its opening). */
export function placeOf(
  layout: Layout,
  column: number,
  sieve: boolean,
  options: ReadOptions,
): Place | undefined {
  if (options.sizes) return options.sizes;
  const heading = layout.headings[layout.sizes[0]!]!;
  if (heading.place) return heading.place;
  const role = layout.headings[column]!.role;
  if (role === 'retained' || role === 'mass' || sieve) return 'lower';
  return undefined;
}
