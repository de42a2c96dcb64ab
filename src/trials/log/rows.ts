import { parseDocument } from 'yaml';
import { type Fault, InputError } from '../../scenario/errors.ts';
import {
  type DecimalSign,
  decimalSign,
  isNumeric,
  parseNumber,
} from '../../scenario/measurement/cell-number.ts';
import { decode } from '../../scenario/measurement/decode.ts';
import { splitRows } from '../../scenario/measurement/split-rows.ts';
import { COLUMNS, readLogHeading } from './columns.ts';

/** A log as text: each row's cells by column name, every number with its unit. */
export interface LogText {
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
}

const BLOCKS = ['motor', 'reading', 'errors'];
const MOST_ROWS = 1000;
const MOST_FAULTS = 20;

/**
 * Text of a trial log, CSV or YAML.
 *
 * @param bytes content
 * @param place file name; `.yaml` and `.yml` are read as YAML
 * @param decimal decimal sign of a CSV that leaves it open
 * @throws InputError with every fault at once
 */
export function readLogText(bytes: Uint8Array, place: string, decimal?: DecimalSign): LogText {
  const { text } = decode(bytes);
  const log = /\.ya?ml$/i.test(place) ? fromYaml(text, place) : fromCsv(text, place, decimal);
  if (log.rows.length === 0)
    throw new InputError([{ place, message: 'holds no runs; one row a run is needed' }]);
  if (log.rows.length > MOST_ROWS)
    throw new InputError([
      { place, message: `holds ${log.rows.length} runs, at most ${MOST_ROWS} are read` },
    ]);
  return log;
}

function fromCsv(text: string, place: string, stated?: DecimalSign): LogText {
  const { rows } = splitRows(text);
  const filled = rows
    .map((cells, i) => ({ cells, line: i + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const at = filled.findIndex(({ cells }) => cells.filter((cell) => readLogHeading(cell).column).length >= 2);
  if (at < 0)
    throw new InputError([
      { place, message: `has no line of headings; known are ${COLUMNS.map(({ name }) => name).join(', ')}` },
    ]);
  const head = filled[at]!;
  const headings = head.cells.map(readLogHeading);
  const faults: Fault[] = headings.flatMap(({ column }, i) =>
    column || head.cells[i] === ''
      ? []
      : [
          {
            place,
            line: head.line,
            message: `"${head.cells[i]!.slice(0, 40)}" is no column of a trial log; known are ${COLUMNS.map(({ name }) => name).join(', ')}`,
          },
        ],
  );
  const body = filled.slice(at + 1);
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
      headings.forEach(({ column, unit }, i) => {
        const cell = cells[i] ?? '';
        if (column && cell !== '')
          row[column.name] =
            isNumeric(cell) && column.kind !== 'text'
              ? `${parseNumber(cell, decimal!)} ${unit || (column.shownIn ?? '')}`
              : cell;
      });
      return {
        place: `${place} line ${line}`,
        cells: row,
        files: (row.sizes ?? '').split(/\s*[;|+]\s*/).filter(Boolean),
      };
    }),
  };
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
  let files: string[] = [];
  for (const [key, value] of Object.entries(item)) {
    const { column } = readLogHeading(key);
    if (!column)
      faults.push({
        place: `${place}.${key}`,
        message: `is no column of a trial log; known are ${COLUMNS.map(({ name }) => name).join(', ')}`,
      });
    else if (column.name === 'sizes' && Array.isArray(value) && value.every((one) => typeof one === 'string'))
      files = value;
    else if (typeof value === 'string') cells[column.name] = value.trim();
    else faults.push({ place: `${place}.${key}`, message: 'must be one value' });
  }
  if (files.length === 0 && cells.sizes) files = [cells.sizes];
  return { place, cells, files };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
