import { isNumeric } from './cell-number.ts';
import { readHeading } from './heading.ts';
import { isSizeLike } from './size-cell.ts';
import { percentileShare } from './stated-percentiles.ts';

/** A block of numbers in a file with the words above it. */
export interface FoundTable {
  /** Heading of each column: the cells above it, joined. */
  readonly headings: readonly string[];
  readonly body: readonly (readonly string[])[];
  /** Where each body row stands, for messages: `line 34`, or `column 7` of a turned table. */
  readonly places: readonly string[];
  /** Line of the first body row, from 1. */
  readonly line: number;
  /** Line of the last body row. */
  readonly lastLine: number;
  /** Lines with words since the table before. */
  readonly remarks: readonly string[];
  /** Whether sizes stood in a row rather than a column; then column 0 holds the sizes. */
  readonly turned: boolean;
}

type Cells = readonly string[];

const MOST_HEADING_ROWS = 3;
const LEAST_SIZES_IN_ROW = 5;
/** Lines after a bad one among which the table may go on. */
const LOOK_AHEAD = 5;
const BARE_UNIT = /^[[(]?\s*(?:nm|[µμu]m|mm|mesh|(?:vol|wt|mass|gew)?\.?\s*-?%|g|kg)\s*[\])]?$/i;
const WORD = /\p{L}{3,}/u;

/** Tables of a file: runs of rows with numbers, each with its heading rows, and the words between them. */
export function findTables(rows: readonly Cells[]): FoundTable[] {
  const tables: FoundTable[] = [];
  let from = 0;
  let at = 0;
  while (at < rows.length) {
    if (!opensBody(rows[at]!)) {
      at++;
      continue;
    }
    const end = endOfBody(rows, at);
    tables.push(tableAt(rows, from, startOfBody(rows, from, at), end));
    from = end;
    at = end;
  }
  return tables;
}

/** The line after the last of a body. A line with a cell that is no number belongs to it, so that it can be named. */
function endOfBody(rows: readonly Cells[], at: number): number {
  const first = rows[at]!;
  let end = at + 1;
  while (end < rows.length) {
    const row = rows[end]!;
    if (continuesBody(row)) end++;
    else if (isSpoilt(row, first) && (goesOn(rows, end, first) || !startsWithWord(row))) end++;
    else if (isBlank(row) && goesOn(rows, end, first)) end++;
    else return end;
  }
  return end;
}

/** A body may begin with a bad row: a size, and beside it a cell that is no number and no heading. */
function startOfBody(rows: readonly Cells[], from: number, at: number): number {
  let start = at;
  while (start > from && isSizeLike(rows[start - 1]![0] ?? '') && isSpoilt(rows[start - 1]!, rows[at]!))
    start--;
  return start;
}

function filled(row: Cells): string[] {
  return row.filter((cell) => cell !== '');
}

function isBlank(row: Cells): boolean {
  return row.every((cell) => cell === '');
}

/** A body row has a number and, beside it, another number or something that can be a size. */
function opensBody(row: Cells): boolean {
  const cells = filled(row);
  const numbers = cells.filter(isNumeric).length;
  const sizes = cells.filter(isSizeLike).length;
  if (cells.some((cell) => percentileShare(cell) !== undefined)) return false;
  return (numbers >= 1 && sizes >= 2) || (numbers === 0 && sizes >= 2 && cells.length === sizes);
}

/** Inside a body a size may stand without its value, at an open end. */
function continuesBody(row: Cells): boolean {
  if (opensBody(row)) return true;
  const cells = filled(row);
  return cells.length === 1 && row.length > 1 && isSizeLike(cells[0]!);
}

/** A row of the width of the body that holds a number where the body does, and something else where it must be a number. */
function isSpoilt(row: Cells, first: Cells): boolean {
  if (row.length !== first.length || row.length < 2) return false;
  if (row.some((cell) => percentileShare(cell) !== undefined)) return false;
  const columns = first.flatMap((cell, i) => (isSizeLike(cell) ? [i] : []));
  const numbers = columns.filter((i) => isSizeLike(row[i]!)).length;
  return numbers > 0 && numbers < columns.length;
}

/** A sum, a mean or a remark under a table: a word before its number. */
function startsWithWord(row: Cells): boolean {
  const cell = filled(row)[0]!;
  return /^[Σ∑]/.test(cell) || (WORD.test(cell) && !/\d/.test(cell));
}

/** Whether the same table goes on below a line: rows like its first, with no heading between. */
function goesOn(rows: readonly Cells[], at: number, first: Cells): boolean {
  for (let i = at + 1; i < Math.min(rows.length, at + 1 + LOOK_AHEAD); i++) {
    const row = rows[i]!;
    if (opensBody(row)) return row.length === first.length;
    if (!isBlank(row) && !isSpoilt(row, first)) return false;
  }
  return false;
}

function widest(rows: readonly Cells[]): number {
  return rows.reduce((most, row) => Math.max(most, row.length), 0);
}

function tableAt(rows: readonly Cells[], from: number, at: number, end: number): FoundTable {
  const numbered = rows
    .slice(at, end)
    .map((row, i) => ({ row, line: at + i + 1 }))
    .filter(({ row }) => !isBlank(row));
  const body = numbered.map(({ row }) => row);
  const width = widest(body);
  let top = at;
  while (
    top > from &&
    at - top < MOST_HEADING_ROWS &&
    (isHeading(rows[top - 1]!, width) || isNamed(rows[top - 1]!))
  ) {
    top--;
    if (!isNamed(rows[top]!) && speaksForItself(rows[top]!)) break;
  }
  const headingRows = rows.slice(top, at).filter((row) => !isNamed(row));
  const remarks = [...rows.slice(from, top), ...rows.slice(top, at).filter(isNamed)]
    .map((row) => filled(row).join(' '))
    .filter((text) => text !== '');
  const placed = { line: at + 1, lastLine: end, remarks };
  const turned = sizesInRow(body, headingRows);
  if (turned) return { ...turnedTable(turned), ...placed };
  const headings = Array.from({ length: width }, (_, column) =>
    headingRows
      .map((row) => row[column] ?? '')
      .filter((cell) => cell !== '')
      .join(' '),
  );
  return { headings, body, places: numbered.map(({ line }) => `line ${line}`), ...placed, turned: false };
}

/** A row of bare units, or of the same words over and over, needs the row above it; any other heading stands alone. */
function speaksForItself(row: Cells): boolean {
  const cells = filled(row);
  if (cells.every((cell) => BARE_UNIT.test(cell))) return false;
  const values = row.slice(1).filter((cell) => cell !== '');
  return values.length < 2 || new Set(values).size === values.length;
}

function isHeading(row: Cells, width: number): boolean {
  const cells = filled(row);
  const statesPercentile =
    cells.length === 2 && percentileShare(cells[0]!) !== undefined && isNumeric(cells[1]!);
  return cells.length >= Math.min(2, width) && cells.length <= width && !statesPercentile;
}

/** `Sample Name:` and its name, in two cells: a remark above the head, not the head. */
function isNamed(row: Cells): boolean {
  const cells = filled(row);
  return (
    cells.length === 2 &&
    /:$/.test(cells[0]!) &&
    !/:$/.test(cells[1]!) &&
    readHeading(cells[0]!).role !== 'size'
  );
}

/** Sizes across the top and one sample a row: the rows start with a name, and the first holds rising sizes. */
function sizesInRow(body: readonly Cells[], headingRows: readonly Cells[]): readonly Cells[] | undefined {
  const top = body[0]!;
  if (isSizeLike(top[0] ?? '') || body.some((row) => isNumeric(row[0] ?? ''))) {
    const heading = headingRows[headingRows.length - 1];
    const named = heading && rising(heading.slice(1)) && heading.slice(1).length >= LEAST_SIZES_IN_ROW;
    return named ? [heading, ...body] : undefined;
  }
  return top.length > LEAST_SIZES_IN_ROW && rising(top.slice(1)) ? body : undefined;
}

function rising(cells: Cells): boolean {
  const kept = cells.filter((cell) => cell !== '');
  if (kept.length < LEAST_SIZES_IN_ROW || !kept.every(isSizeLike)) return false;
  const sizes = kept.map((cell) => Number(cell.replace(/[^\d.,eE+-]/g, '').replace(',', '.')));
  const steps = sizes.slice(1).map((size, i) => Math.sign(size - sizes[i]!));
  return steps.every((step) => step === steps[0] && step !== 0);
}

function turnedTable(rows: readonly Cells[]): Pick<FoundTable, 'headings' | 'body' | 'places' | 'turned'> {
  const width = widest(rows);
  const body = Array.from({ length: width - 1 }, (_, i) => rows.map((row) => row[i + 1] ?? ''));
  const places = body.map((_, i) => `column ${i + 2}`);
  return { headings: rows.map((row) => row[0] ?? ''), body, places, turned: true };
}
