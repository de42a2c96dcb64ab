import { parse } from 'csv-parse/sync';
import { type Fault, InputError } from '../../scenario/errors.ts';
import { bytesOfFile } from '../../scenario/load.ts';
import { MOST_FACTORS } from '../../scenario/read/read-sweep.ts';

/** `rotorSpeed (rpm)` or `wheel.geometry.height [mm]`; a factor of names stands alone. */
const HEAD = /^\s*([^\s([]+)\s*(?:[([]\s*(.*?)\s*[)\]])?\s*$/;

/**
 * Points of a CSV file as the text that sets `sweep.factors`, each value with the unit of its head, so that the
 * scenario's own reading checks them.
 *
 * @param path of the file: a row of heads, then one row a point; separated by commas, semicolons or tabs
 * @returns e.g. `sweep.factors={"feedRate":["100 kg/h","120 kg/h"]}`
 * @throws InputError with every fault of the table
 */
export function listAsSetting(path: string): string {
  const [heads, ...rows] = readTable(path);
  const faults: Fault[] = [];
  if (heads !== undefined && heads.length > MOST_FACTORS) {
    const message = `must have at most ${MOST_FACTORS} columns, one a factor; has ${heads.length}`;
    throw new InputError([{ place: path, message }]);
  }
  if (heads === undefined || rows.length === 0) {
    faults.push({ place: path, message: 'must have a row of heads and at least one point' });
  }
  const columns = (heads ?? []).map((head, c) => {
    const parts = HEAD.exec(head);
    if (parts === null) {
      faults.push({ place: path, message: `column ${c + 1}: the head must be factor (unit), is "${head}"` });
    }
    return { path: parts?.[1] ?? '', unit: parts?.[2] ?? '' };
  });
  rows.forEach((row, r) => {
    if (row.length !== columns.length) {
      const message = `has ${row.length} cells where the heads name ${columns.length} columns`;
      faults.push({ place: path, line: r + 2, message });
    }
    row.forEach((value, c) => {
      if (value === '') faults.push({ place: path, line: r + 2, message: `${heads?.[c]} is empty` });
    });
  });
  if (faults.length > 0) throw new InputError(faults.slice(0, 20));
  const factors = columns.map(({ path: factor, unit }, c) => {
    const values = rows.map((row) => (unit === '' ? row[c]! : `${row[c]} ${unit}`));
    return [factor, values] as const;
  });
  return `sweep.factors=${JSON.stringify(Object.fromEntries(factors))}`;
}

/** Largest list of points read [bytes]. */
const LARGEST = 64e6;

function readTable(path: string): string[][] {
  try {
    const text = Buffer.from(bytesOfFile(path, LARGEST)).toString('utf8');
    return parse(text, { bom: true, delimiter: delimiterOf(text), ...FORM });
  } catch (error) {
    throw new InputError([{ place: path, message: `cannot be read: ${(error as Error).message}` }]);
  }
}

const FORM = { trim: true, skip_empty_lines: true, relax_column_count: true } as const;

/** The separator that stands most often in the heads. */
function delimiterOf(text: string): string {
  const heads = text.slice(0, text.search(/[\r\n]|$/));
  const count = (mark: string): number => heads.split(mark).length;
  return [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best));
}
