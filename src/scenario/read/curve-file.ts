import type { Table } from '../../model/parameters.ts';
import { isProblem, type Problem, problem } from '../units/problem.ts';
import { unitMeaning } from '../units/unit.ts';

const LARGEST = 1_000_000;
const MOST_ROWS = 2000;

/**
 * Reads a measured curve from a table of columns: one of upper sizes, one of cumulative undersize. The heads say which,
 * and the unit of size unless `sizeUnit` does.
 *
 * @param text CSV, separated by comma, semicolon or tab
 * @param sizeUnit unit of the size column
 * @returns points (size [m], share finer), ascending; or the problem in words
 */
export function readCurveFile(text: string, sizeUnit?: string): { readonly points: Table } | Problem {
  if (text.length > LARGEST) return problem('is larger than 1 MB');
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'));
  if (lines.length < 3 || lines.length > MOST_ROWS)
    return problem(`must have a head and 2 to ${MOST_ROWS} rows`);
  const separator = ['\t', ';', ','].find((sign) => lines[0]!.includes(sign));
  if (!separator) return problem('must have columns separated by comma, semicolon or tab');
  const heads = lines[0]!.split(separator).map((head) => head.trim());
  const columns = findColumns(heads, sizeUnit);
  if (isProblem(columns)) return columns;
  const rows: [number, number][] = [];
  for (const [i, line] of lines.slice(1).entries()) {
    const cells = line.split(separator);
    const size = Number(cells[columns.size]?.trim() || 'x') * columns.factor;
    const share = Number(cells[columns.undersize]?.trim() || 'x') * columns.share;
    if (!(size > 0) || !(share >= 0)) {
      const comma = separator !== ',' && line.includes(',') ? '; write decimals with a point' : '';
      return problem(`row ${i + 2} must have numbers for size and undersize${comma}`);
    }
    rows.push([size, share]);
  }
  return curveOf(rows);
}

interface Columns {
  readonly size: number;
  readonly undersize: number;
  /** Size in metres per unit of the column. */
  readonly factor: number;
  readonly share: number;
}

function findColumns(heads: readonly string[], sizeUnit?: string): Columns | Problem {
  const size = heads.findIndex((head) => /size|diameter|aperture|opening/i.test(head));
  const undersize = heads.findIndex((head) => /undersize|passing|finer|cumul/i.test(head));
  if (size < 0) return problem('must have a column with "size" in its head');
  if (undersize < 0) return problem('must have a column with "undersize" or "passing" in its head');
  const found = /(?:^|[\s_([,])(um|µm|μm|mm|nm|m)(?:$|[\s_)\],])/i.exec(heads[size]!)?.[1];
  const unit = sizeUnit ?? found;
  if (unit === undefined)
    return problem('must say the unit of size in the head of its column, or by sizeUnit');
  const meaning = unitMeaning(unit, 'm');
  if (isProblem(meaning)) return problem(`sizeUnit ${meaning.problem}`);
  const share = /%|pct|percent/i.test(heads[undersize]!) ? 0.01 : 1;
  return { size, undersize, factor: meaning.factor, share };
}

/** Rows of a cumulative curve, ascending; how it rises and ends is checked like a typed one. */
function curveOf(rows: readonly [number, number][]): { readonly points: Table } | Problem {
  for (let i = 1; i < rows.length; i++) {
    if (rows[i]![0] <= rows[i - 1]![0]) return problem(`must have sizes that rise; row ${i + 2} does not`);
  }
  const top = rows.at(-1)![1];
  if (top > 1 + 1e-6) {
    return problem('must have undersize up to 100 %; it goes beyond (is the head missing a %?)');
  }
  return { points: rows.map(([size, share]) => [size, Math.min(1, share)] as const) };
}
