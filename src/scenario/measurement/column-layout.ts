import { type Heading, type Role, readHeading } from './heading.ts';
import type { ReadOptions } from './reading-questions.ts';
import type { FoundTable } from './tables-in-file.ts';

/** A table's columns by what they are. */
export interface Layout {
  readonly headings: readonly Heading[];
  /** One column of sizes, or two: lower and upper ends of the classes. */
  readonly sizes: readonly number[];
  /** Columns of values, one a sample. */
  readonly values: readonly number[];
  /** Columns of in-class values or masses beside cumulative ones, to check them by; as many as `values`, or none. */
  readonly checks: readonly number[];
  /** Column that names the sample of each row. */
  readonly sample?: number;
  /** Headings nobody could use. */
  readonly ignored: readonly string[];
}

/** Which columns answer best: a cumulative one is what the others are summed to. */
const PREFERENCE: readonly Role[] = [
  'undersize',
  'oversize',
  'cumulative',
  'in-class',
  'retained',
  'mass',
  'density',
  'log-density',
  'unknown',
];

/**
 * Columns of a table by the words above them. A table without words is read by `columns` alone.
 *
 * @returns the layout, or what is missing, in words
 */
export function layOut(table: FoundTable, options: ReadOptions): Layout | string {
  const texts = options.columns ?? table.headings;
  const width = table.body.reduce((most, row) => Math.max(most, row.length), texts.length);
  const headings = Array.from({ length: width }, (_, i) => readHeading(texts[i] ?? ''));
  const words = headings.filter((heading) => heading.text !== '').length;
  if (words === 0) return 'the columns have no headings; state them with --columns "size um, undersize %"';
  if (!options.columns && table.headings.length > 0 && words > 1 && misfit(table)) {
    return 'rows have more cells than the heading: is the comma both separator and decimal sign? state --separator and --decimal, or export with semicolons';
  }
  const sizes = sizeColumns(headings, table.turned);
  if (sizes.length === 0)
    return 'no column is named as sizes; state the headings with --columns "size um, undersize %"';
  const sample = headings.findIndex((heading) => heading.role === 'sample');
  const free = headings.map((_, i) => i).filter((i) => !sizes.includes(i) && i !== sample);
  const hold = free.filter((i) => table.body.some((row) => /\d/.test(row[i] ?? '')));
  const best = PREFERENCE.find((role) => hold.some((i) => headings[i]!.role === role));
  if (!best) return 'there is a column of sizes but none of values; state the headings with --columns';
  const values = hold.filter((i) => headings[i]!.role === best);
  const checks = checksOf(headings, hold, best, values.length);
  const ignored = hold
    .filter((i) => !values.includes(i) && !checks.includes(i))
    .map((i) => headings[i]!.text);
  return { headings, sizes, values, checks, ...(sample >= 0 ? { sample } : {}), ignored };
}

/** In-class values, or masses on the sieves, beside a cumulative column: as many as it has, the first kind found. */
function checksOf(
  headings: readonly Heading[],
  hold: readonly number[],
  best: Role,
  count: number,
): number[] {
  if (best !== 'undersize' && best !== 'oversize' && best !== 'cumulative') return [];
  for (const role of ['in-class', 'mass', 'retained'] as const) {
    const found = hold.filter((i) => headings[i]!.role === role);
    if (found.length === count) return found;
  }
  return [];
}

function sizeColumns(headings: readonly Heading[], turned: boolean): number[] {
  if (turned) return [0];
  const named = headings.map((_, i) => i).filter((i) => headings[i]!.role === 'size');
  const lower = named.find((i) => headings[i]!.place === 'lower');
  const upper = named.find((i) => headings[i]!.place === 'upper');
  if (lower !== undefined && upper !== undefined) return [lower, upper];
  return named.slice(0, 1);
}

/** A heading of n words over rows that all have more cells, every one a whole number: a comma too many. */
function misfit(table: FoundTable): boolean {
  const words = table.headings.filter((text) => text !== '').length;
  return (
    table.body.length > 1 &&
    table.body.every((row) => row.length > words && row.every((cell) => /^-?\d*$/.test(cell)))
  );
}
