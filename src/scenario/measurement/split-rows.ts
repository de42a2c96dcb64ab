import { parse } from 'csv-parse/browser/esm/sync';
import { isNumeric } from './cell-number.ts';

/** What parts the cells of a line. */
export type Separator = 'tab' | 'semicolon' | 'comma' | 'bar' | 'spaces';

export interface Rows {
  readonly separator: Separator;
  /** Cells, trimmed; empty lines keep their place as empty rows. */
  readonly rows: readonly (readonly string[])[];
}

const SIGN: Readonly<Record<Exclude<Separator, 'spaces'>, string>> = {
  tab: '\t',
  semicolon: ';',
  bar: '|',
  comma: ',',
};

/**
 * Text → rows of cells. The separator is the one that gives most lines with a number and another cell; a tab, semicolon
 * or bar wins over a comma, which may be a decimal sign.
 *
 * @param text file content
 * @param stated separator the user states; it overrides
 * @example splitRows('size;Q\n1,5;20').separator // 'semicolon'
 */
export function splitRows(text: string, stated?: Separator): Rows {
  const lines = text.split('\n');
  if (stated) return { separator: stated, rows: cut(text, lines, stated) };
  let best: Rows | undefined;
  let most = -1;
  for (const separator of ['tab', 'semicolon', 'bar', 'spaces', 'comma'] as const) {
    const rows = cut(text, lines, separator);
    const score = rows.reduce((sum, row) => sum + lineScore(row), 0);
    if (score > most) {
      most = score;
      best = { separator, rows };
    }
  }
  return best!;
}

/** A line speaks for its separator when it has a number and a second cell, and every number cell is a clean one. */
function lineScore(row: readonly string[]): number {
  const filled = row.filter((cell) => cell !== '');
  if (filled.length < 2) return 0;
  const numbers = filled.filter(isNumeric).length;
  return numbers === 0 ? 0 : numbers / filled.length;
}

function cut(text: string, lines: readonly string[], separator: Separator): string[][] {
  if (separator === 'spaces') return lines.map(cutAtSpaces);
  const delimiter = SIGN[separator];
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
