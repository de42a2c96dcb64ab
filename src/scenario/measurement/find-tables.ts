import { isNumeric } from './cell-number.ts';
import { percentileShare } from './percentiles.ts';
import { isSizeLike } from './size-cell.ts';

/** A block of numbers in a file with the words above it. */
export interface FoundTable {
  /** Heading of each column: the cells above it, joined. */
  readonly headings: readonly string[];
  readonly body: readonly (readonly string[])[];
  /** Line of the first body row, from 1. */
  readonly line: number;
  /** Lines with words since the table before. */
  readonly remarks: readonly string[];
  /** Whether sizes stood in a row rather than a column; then column 0 holds the sizes. */
  readonly turned: boolean;
}

const MOST_HEADING_ROWS = 3;
const LEAST_SIZES_IN_ROW = 5;
const BARE_UNIT = /^[[(]?\s*(?:nm|[µμu]m|mm|mesh|%|g|kg)\s*[\])]?$/i;

/** Tables of a file: runs of rows with numbers, each with its heading rows, and the words between them. */
export function findTables(rows: readonly (readonly string[])[]): FoundTable[] {
  const tables: FoundTable[] = [];
  let from = 0;
  let at = 0;
  while (at < rows.length) {
    if (!opensBody(rows[at]!)) {
      at++;
      continue;
    }
    let end = at + 1;
    while (end < rows.length && continuesBody(rows[end]!)) end++;
    tables.push(tableAt(rows, from, at, end));
    from = end;
    at = end;
  }
  return tables;
}

function filled(row: readonly string[]): string[] {
  return row.filter((cell) => cell !== '');
}

/** A body row has a number and, beside it, another number or something that can be a size. */
function opensBody(row: readonly string[]): boolean {
  const cells = filled(row);
  const numbers = cells.filter(isNumeric).length;
  const sizes = cells.filter(isSizeLike).length;
  if (cells.some((cell) => percentileShare(cell) !== undefined)) return false;
  return (numbers >= 1 && sizes >= 2) || (numbers === 0 && sizes >= 2 && cells.length === sizes);
}

/** Inside a body a size may stand without its value, at an open end. */
function continuesBody(row: readonly string[]): boolean {
  if (opensBody(row)) return true;
  const cells = filled(row);
  return cells.length === 1 && row.length > 1 && isSizeLike(cells[0]!);
}

function tableAt(rows: readonly (readonly string[])[], from: number, at: number, end: number): FoundTable {
  const width = Math.max(...rows.slice(at, end).map((row) => row.length));
  let top = at;
  while (top > from && at - top < MOST_HEADING_ROWS && isHeading(rows[top - 1]!, width)) {
    top--;
    if (speaksForItself(rows[top]!)) break;
  }
  const headingRows = rows.slice(top, at);
  const remarks = rows
    .slice(from, top)
    .map((row) => filled(row).join(' '))
    .filter((text) => text !== '');
  const body = rows.slice(at, end);
  const turned = sizesInRow(body, headingRows);
  if (turned) return { ...turnedTable(turned), line: at + 1, remarks };
  const headings = Array.from({ length: width }, (_, column) =>
    headingRows
      .map((row) => row[column] ?? '')
      .filter((cell) => cell !== '')
      .join(' '),
  );
  return { headings, body, line: at + 1, remarks, turned: false };
}

/** A row of bare units, or of the same words over and over, needs the row above it; any other heading stands alone. */
function speaksForItself(row: readonly string[]): boolean {
  const cells = filled(row);
  if (cells.every((cell) => BARE_UNIT.test(cell))) return false;
  const values = row.slice(1).filter((cell) => cell !== '');
  return values.length < 2 || new Set(values).size === values.length;
}

function isHeading(row: readonly string[], width: number): boolean {
  const cells = filled(row);
  const statesPercentile =
    cells.length === 2 && percentileShare(cells[0]!) !== undefined && isNumeric(cells[1]!);
  return cells.length >= Math.min(2, width) && cells.length <= width && !statesPercentile;
}

/** Sizes across the top and one sample a row: the rows start with a name, and the first holds rising sizes. */
function sizesInRow(
  body: readonly (readonly string[])[],
  headingRows: readonly (readonly string[])[],
): readonly (readonly string[])[] | undefined {
  const top = body[0]!;
  if (isSizeLike(top[0] ?? '') || body.some((row) => isNumeric(row[0] ?? ''))) {
    const heading = headingRows[headingRows.length - 1];
    const named = heading && rising(heading.slice(1)) && heading.slice(1).length >= LEAST_SIZES_IN_ROW;
    return named ? [heading, ...body] : undefined;
  }
  return top.length > LEAST_SIZES_IN_ROW && rising(top.slice(1)) ? body : undefined;
}

function rising(cells: readonly string[]): boolean {
  const kept = cells.filter((cell) => cell !== '');
  if (kept.length < LEAST_SIZES_IN_ROW || !kept.every(isSizeLike)) return false;
  const sizes = kept.map((cell) => Number(cell.replace(/[^\d.,eE+-]/g, '').replace(',', '.')));
  const steps = sizes.slice(1).map((size, i) => Math.sign(size - sizes[i]!));
  return steps.every((step) => step === steps[0] && step !== 0);
}

function turnedTable(rows: readonly (readonly string[])[]): Pick<FoundTable, 'headings' | 'body' | 'turned'> {
  const width = Math.max(...rows.map((row) => row.length));
  const body = Array.from({ length: width - 1 }, (_, i) => rows.map((row) => row[i + 1] ?? ''));
  return { headings: rows.map((row) => row[0] ?? ''), body, turned: true };
}
