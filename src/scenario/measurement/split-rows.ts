import { parse } from 'csv-parse/browser/esm/sync';
import { isNumeric } from './cell-number.ts';

/** What parts the cells of a line. */
export type Separator = 'tab' | 'semicolon' | 'comma' | 'bar' | 'spaces';

export interface Rows {
  readonly separator: Separator;
  /** Cells, trimmed; empty lines keep their place as empty rows. */
  readonly rows: readonly (readonly string[])[];
}

/** The sign of each separator. */
export const SEPARATOR_SIGN: Readonly<Record<Exclude<Separator, 'spaces'>, string>> = {
  tab: '\t',
  semicolon: ';',
  bar: '|',
  comma: ',',
};

/** Lines that decide what the separator is. */
const LINES_TRIED = 2000;
/** Far beyond any export of an analyser; each is counted before a line is cut. */
const MOST_LINES = 50_000;
const MOST_COLUMNS = 2000;

/**
 * Why a text is too large to be a table of sizes, in words; undefined where it is not. Nothing is cut into cells for it.
 *
 * @example tooLarge('size;Q\n1;20') // undefined
 */
export function tooLarge(text: string): string | undefined {
  let lines = 1;
  let signs = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 10) {
      lines++;
      signs = 0;
      if (lines > MOST_LINES)
        return `has more than ${MOST_LINES} lines; export one sample, or a few, to a file`;
    } else if (code === 9 || code === 44 || code === 59 || code === 124) {
      signs++;
      if (signs > 2 * MOST_COLUMNS)
        return `has more than ${MOST_COLUMNS} columns (line ${lines}); export one sample, or a few, to a file`;
    }
  }
  return undefined;
}

/**
 * Text → rows of cells. The separator is the one that gives most lines with a number and another cell; a tab, semicolon
 * or bar wins over a comma, which may be a decimal sign.
 *
 * @param text file content
 * @param stated separator the user states; it overrides
 * @example splitRows('size;Q\n1,5;20').separator // 'semicolon'
 */
export function splitRows(text: string, stated?: Separator): Rows {
  const separator = stated ?? separatorOf(text);
  return { separator, rows: cut(text, separator) };
}

function separatorOf(text: string): Separator {
  let end = 0;
  for (let i = 0; i < LINES_TRIED && end >= 0; i++) end = text.indexOf('\n', end + 1);
  const part = end < 0 ? text : text.slice(0, end);
  let best: Separator = 'tab';
  let most = -1;
  for (const separator of ['tab', 'semicolon', 'bar', 'spaces', 'comma'] as const) {
    const score = cut(part, separator).reduce((sum, row) => sum + lineScore(row), 0);
    if (score > most) {
      most = score;
      best = separator;
    }
  }
  return best;
}

/**
 * A line speaks for its separator by the share of its cells that are numbers, where that is half of them at least: a
 * name of several words with a number in it is no row of a table.
 */
function lineScore(row: readonly string[]): number {
  const filled = row.filter((cell) => cell !== '');
  if (filled.length < 2) return 0;
  const share = filled.filter(isNumeric).length / filled.length;
  return share >= 0.5 ? share : 0;
}

function cut(text: string, separator: Separator): string[][] {
  if (separator === 'spaces') return text.split('\n').map(cutAtSpaces);
  const delimiter = SEPARATOR_SIGN[separator];
  const options = {
    delimiter,
    relax_column_count: true,
    relax_quotes: true,
    skip_empty_lines: false,
    trim: true,
  };
  try {
    return parse(text, options) as string[][];
  } catch {
    // an unclosed quote in a remark must not hide the table: then quotes are plain signs
    return parse(text, { ...options, quote: false }) as string[][];
  }
}

/** Two blanks part cells where a line has them, else one: headings hold single blanks. */
function cutAtSpaces(line: string): string[] {
  const plain = line.replace(/\u00a0/g, ' ').trim();
  if (plain === '') return [];
  const wide = plain.split(/\s{2,}/);
  const narrow = plain.split(/\s+/);
  if (narrow.every(isNumeric)) return narrow;
  return wide.length > 1 ? wide : narrow;
}
