import { parseDocument } from 'yaml';
import { type Fault, InputError } from '../../scenario/errors.ts';
import {
  type DecimalSign,
  decimalSign,
  isNumeric,
  parseNumber,
} from '../../scenario/measurement/cell-number.ts';
import { decode, noText } from '../../scenario/measurement/decode.ts';
import { tooLarge } from '../../scenario/measurement/split-rows.ts';
import { nearestName } from '../../scenario/read/did-you-mean.ts';
import { COLUMNS, type LogHeading, readLogHeading } from './columns.ts';
import { csvTable, isNote } from './csv-table.ts';

/** A log as text: each row's cells by column name, every number with its unit. */
interface LogText {
  readonly rows: readonly LogRow[];
  /** The blocks `motor`, `reading`, `errors` of a YAML log. */
  readonly blocks: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
}

export interface LogRow {
  /** Place for messages, e.g. `trials.csv row 3`. */
  readonly place: string;
  readonly cells: Readonly<Record<string, string>>;
  /** Size files where YAML lists several. */
  readonly files: readonly string[];
  /** Cells of columns that a log does not know, by their headings. */
  readonly others: Readonly<Record<string, string>>;
}

const BLOCKS = ['motor', 'reading', 'errors'];
const MOST_ROWS = 1000;
const MOST_FAULTS = 20;
const LEAST_LETTERS = 4;

/**
 * Text of a trial log, CSV or YAML.
 *
 * @param bytes content
 * @param place file name; `.yaml` and `.yml` are read as YAML
 * @param decimal decimal sign of a CSV that leaves it open
 * @throws InputError with every fault at once
 */
export function readLogText(bytes: Uint8Array, place: string, decimal?: DecimalSign): LogText {
  const refused = noText(bytes, place);
  if (refused) throw new InputError([{ place, message: refused }]);
  const { text } = decode(bytes);
  const large = tooLarge(text);
  if (large) throw new InputError([{ place, message: large }]);
  const log = /\.ya?ml$/i.test(place) ? fromYaml(text, place) : fromCsv(text, place, decimal);
  if (log.rows.length === 0)
    throw new InputError([{ place, message: 'has no runs; write one row for each run' }]);
  if (log.rows.length > MOST_ROWS)
    throw new InputError([
      { place, message: `holds ${log.rows.length} runs, at most ${MOST_ROWS} are read` },
    ]);
  return log;
}

function fromCsv(text: string, place: string, stated?: DecimalSign): LogText {
  const table = csvTable(text);
  if (!table)
    throw new InputError([
      { place, message: `has no row of headings; known are ${COLUMNS.map(({ name }) => name).join(', ')}` },
    ]);
  const { head, units } = table;
  const headings = head.cells.map(readLogHeading);
  const faults: Fault[] = [
    ...head.cells.flatMap((cell, i) => mistyped(cell, headings[i]!, { place, line: head.line })),
    ...namedTwice(headings, { place, line: head.line }),
  ];
  const body = table.body.filter(({ cells }) => !isNote(cells));
  const decimal = stated ?? decimalSign(body.flatMap(({ cells }) => cells.filter(isNumeric)));
  if (!decimal)
    faults.push({
      place,
      message: 'numbers can be read with either decimal sign; state it with --decimal point | comma',
    });
  if (faults.length > 0) throw new InputError(faults);
  return {
    blocks: {},
    rows: body.map(({ cells, line }) => {
      const row: Record<string, string> = {};
      const others: Record<string, string> = {};
      headings.forEach(({ column, unit }, i) => {
        const cell = cells[i] ?? '';
        const value = isNumeric(cell) ? parseNumber(cell, decimal!) : Number.NaN;
        if (!column && cell !== '' && head.cells[i]) others[oneLine(head.cells[i]!)] = cell;
        if (column && cell !== '')
          row[column.name] =
            !Number.isNaN(value) && column.kind !== 'text'
              ? `${value} ${unit || units?.[i] || (column.shownIn ?? '')}`
              : cell;
      });
      return {
        place: `${place} line ${line}`,
        cells: row,
        others,
        files: (row.sizes ?? '').split(/\s*[;|+]\s*/).filter(Boolean),
      };
    }),
  };
}

/** A heading of a user's own as it is shown. */
function oneLine(heading: string): string {
  return heading.replace(/\s+/g, ' ').trim().slice(0, 60);
}

/** A heading that is nearly a known one is a slip, not a column of the user's own. */
function mistyped(cell: string, { column }: LogHeading, at: Pick<Fault, 'place' | 'line'>): Fault[] {
  if (column || cell === '') return [];
  const name = /^[^[(,]*/.exec(cell)![0].trim();
  const near = nearestName(
    name.replace(/[^A-Za-z0-9]/g, ''),
    COLUMNS.map((one) => one.name),
  );
  if (near === undefined || name.length < LEAST_LETTERS) return [];
  return [
    {
      ...at,
      message: `"${cell.slice(0, 40)}" is no column of a trial log; did you mean ${near}? A column of your own needs a name less like it`,
    },
  ];
}

function namedTwice(headings: readonly LogHeading[], at: Pick<Fault, 'place' | 'line'>): Fault[] {
  const names = headings.flatMap(({ column }) => (column ? [column.name] : []));
  const twice = [...new Set(names.filter((name, i) => names.indexOf(name) !== i))];
  return twice.map((name) => ({
    ...at,
    message: `several columns are read as ${name}; keep one, or rename the others`,
  }));
}

function fromYaml(text: string, place: string): LogText {
  const root = treeOf(text, place);
  if (!isRecord(root))
    throw new InputError([{ place, message: 'must be a block of keys, with trials: a list' }]);
  const faults: Fault[] = [];
  for (const [key, value] of Object.entries(root)) {
    const at = `${place}: ${key}`;
    if (!Object.hasOwn(SHAPES, key))
      faults.push({ place: at, message: `is not known here; known are ${Object.keys(SHAPES).join(', ')}` });
    else if (shapeOf(value) !== SHAPES[key]) faults.push({ place: at, message: `must be ${SHAPES[key]}` });
  }
  if (faults.length > 0) throw new InputError(faults);
  const defaults = (root.defaults ?? {}) as Record<string, unknown>;
  const rows = ((root.trials ?? []) as unknown[]).map((item, i) => {
    const at = `${place}: trials[${i}]`;
    if (!isRecord(item)) faults.push({ place: at, message: 'must be a block of keys, one run' });
    return yamlRow({ ...defaults, ...(isRecord(item) ? item : {}) }, at, faults);
  });
  if (faults.length > 0) throw new InputError(faults);
  const blocks: Record<string, Record<string, unknown>> = {};
  for (const key of BLOCKS) if (isRecord(root[key])) blocks[key] = root[key];
  return { rows, blocks };
}

/** The text as plain values; whatever YAML warns of, such as tags and aliases, is a fault. */
function treeOf(text: string, place: string): unknown {
  const document = parseDocument(text, { schema: 'failsafe', stringKeys: true, logLevel: 'silent' });
  const wrong = [...document.errors, ...document.warnings].slice(0, MOST_FAULTS);
  if (wrong.length > 0) {
    throw new InputError(
      wrong.map(({ message, linePos }) => ({
        place,
        ...(linePos ? { line: linePos[0].line } : {}),
        message: `is not readable as YAML: ${message.split('\n')[0]}`,
      })),
    );
  }
  try {
    return document.toJS({ maxAliasCount: 0 });
  } catch {
    throw new InputError([{ place, message: 'must not use aliases (*name); write the values out' }]);
  }
}

/** What each part of a YAML log is. */
const SHAPES: Readonly<Record<string, string>> = {
  title: 'text',
  defaults: 'a block of keys',
  trials: 'a list',
  ...Object.fromEntries(BLOCKS.map((name) => [name, 'a block of keys'])),
};

function shapeOf(value: unknown): string {
  return Array.isArray(value) ? 'a list' : isRecord(value) ? 'a block of keys' : 'text';
}

function yamlRow(item: Record<string, unknown>, place: string, faults: Fault[]): LogRow {
  const cells: Record<string, string> = {};
  const others: Record<string, string> = {};
  let files: string[] = [];
  for (const [key, value] of Object.entries(item)) {
    const heading = readLogHeading(key);
    const { column } = heading;
    const slips = mistyped(key, heading, { place: `${place}.${key}` });
    if (slips.length > 0) faults.push(...slips);
    else if (!column) others[oneLine(key)] = typeof value === 'string' ? value.trim() : JSON.stringify(value);
    else if (column.name === 'sizes' && Array.isArray(value) && value.every((one) => typeof one === 'string'))
      files = value;
    else if (typeof value === 'string') cells[column.name] = value.trim();
    else faults.push({ place: `${place}.${key}`, message: 'must be one value' });
  }
  if (files.length === 0 && cells.sizes) files = [cells.sizes];
  return { place, cells, files, others };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
