import { SEPARATOR_SIGN, type Separator, splitRows } from '../../scenario/measurement/split-rows.ts';
import { unitMeaning } from '../../scenario/units/unit.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';
import { type LogHeading, readLogHeading } from './columns.ts';

/** A line of a CSV with its number in the file. */
interface CsvLine {
  readonly cells: readonly string[];
  readonly line: number;
}

/** A trial log as it stands in a CSV, cells as typed. */
export interface CsvTable {
  readonly separator: Separator;
  /** Lines above the headings. */
  readonly before: readonly CsvLine[];
  readonly head: CsvLine;
  /** The line of units under the headings, where there is one. */
  readonly units?: readonly string[];
  /** Runs, and notes that begin with #. */
  readonly body: readonly CsvLine[];
}

const SEPARATORS = ['semicolon', 'tab', 'comma', 'bar', 'spaces'] as const;
const SETTING_UNITS = /^(?:rpm|1\/min|min-1|Hz|%|m\/s|kg\/h|t\/h|kg\/min|g\/s|kg\/s)$/i;
/** Known headings in one line that make it the head of a log. */
const LEAST_HEADINGS = 2;

/** The table of a log; undefined where no line has two known headings. */
export function csvTable(text: string): CsvTable | undefined {
  const { separator, rows } = rowsOf(text);
  const filled = rows
    .map((cells, i) => ({ cells, line: i + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const at = filled.findIndex(({ cells }) => knownIn(cells) >= LEAST_HEADINGS);
  if (at < 0) return undefined;
  const head = filled[at]!;
  const under = filled[at + 1];
  const units = under && isUnitLine(under.cells, head.cells.map(readLogHeading)) ? under.cells : undefined;
  return {
    separator,
    before: filled.slice(0, at),
    head,
    ...(units ? { units } : {}),
    body: filled.slice(units ? at + 2 : at + 1),
  };
}

/** A line that begins with # is a note. */
export function isNote(cells: readonly string[]): boolean {
  return /^#/.test(cells.find((cell) => cell !== '') ?? '');
}

/** Known headings in a line of cells. */
export function knownIn(cells: readonly string[]): number {
  return cells.filter((cell) => readLogHeading(cell).column).length;
}

/** The table as a CSV that reads back to the same cells. */
export function csvText({ separator, before, head, units, body }: CsvTable): string {
  // spaces cannot part cells that hold spaces or are empty
  const sign = separator === 'spaces' ? ';' : SEPARATOR_SIGN[separator];
  const cell = (text: string) =>
    text.includes(sign) || /["\r\n]/.test(text) ? `"${text.split('"').join('""')}"` : text;
  const lines = [...before, head, ...(units ? [{ cells: units }] : []), ...body];
  return `${lines.map(({ cells }) => cells.map(cell).join(sign)).join('\n')}\n`;
}

/** A line of units under the headings: every filled cell is one that its column can have, and the run has no name. */
function isUnitLine(cells: readonly string[], headings: readonly LogHeading[]): boolean {
  const stated = headings.flatMap(({ column }, i) => (cells[i] ? [{ column, cell: cells[i]! }] : []));
  return (
    stated.length > 0 &&
    stated.every(({ column, cell }) => {
      if (!column) return !/\d{2}/.test(cell);
      if (column.kind === 'setting') return SETTING_UNITS.test(cell);
      return column.unit !== undefined && !isProblem(unitMeaning(cell, column.unit));
    })
  );
}

/** The separator of a log is the one that shows most of its headings. */
function rowsOf(text: string) {
  const tried = SEPARATORS.map((separator) => splitRows(text, separator));
  const known = tried.map(({ rows }) => rows.reduce((most, cells) => Math.max(most, knownIn(cells)), 0));
  return tried[known.indexOf(Math.max(...known))]!;
}
