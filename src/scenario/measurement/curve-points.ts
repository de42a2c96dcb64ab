import type { Fault } from '../errors.ts';
import { classSums } from './class-sums.ts';
import type { Place } from './heading.ts';
import type { SizePoint } from './measured-sample.ts';
import { type Question, question, type ReadOptions } from './reading-questions.ts';
import type { Meaning } from './value-kind.ts';
import { type Points, percent, type ValueRow } from './value-row.ts';

const SUM_NOTE = 5e-4;
/** What a cumulative curve may exceed 100 % by rounding, and fall back by. */
const OVER_LIMIT = 0.01;
const DIP_LIMIT = 0.01;

/**
 * Cumulative undersize from a sample's rows.
 *
 * @param rows ascending in size
 * @param place where in its class a lone size lies; needed for in-class values only
 * @param where the table, for messages
 * @param file the file, for messages of one row
 */
export function pointsOf(
  rows: readonly ValueRow[],
  meaning: Meaning,
  place: Place | undefined,
  options: ReadOptions,
  where: string,
  file: string,
): Points | Fault | Question {
  const filled = rows.filter((row) => Number.isFinite(row.value));
  if (filled.length === 0) return { place: where, message: 'holds no values' };
  const negative = filled.find((row) => row.value < 0);
  if (negative)
    return { place: `${file} (${negative.at})`, message: `a share must be 0 or more, is ${negative.value}` };
  if (meaning.kind === 'undersize' || meaning.kind === 'oversize')
    return cumulative(filled, meaning.kind, meaning.whole!, where, file);
  return classSums(rows, meaning, place, options, where);
}

function cumulative(
  rows: readonly ValueRow[],
  kind: 'undersize' | 'oversize',
  whole: number,
  where: string,
  file: string,
): Points | Fault | Question {
  const remarks: string[] = [];
  let reached = 0;
  let worst = 0;
  let falls = 0;
  let worstRow = rows[0]!;
  const points: SizePoint[] = [];
  for (const row of rows) {
    const share = row.value / whole;
    if (share > 1 + OVER_LIMIT)
      return {
        place: `${file} (${row.at})`,
        message: `${percent(share)} % is above 100 %; correct the cell, or state what the values are with --kind`,
      };
    const undersize = kind === 'undersize' ? share : 1 - share;
    if (undersize < reached - 1e-9) falls++;
    if (reached - undersize > worst) {
      worst = reached - undersize;
      worstRow = row;
    }
    reached = Math.max(reached, undersize);
    const size = row.size ?? (kind === 'undersize' ? (row.upper ?? row.lower) : (row.lower ?? row.upper));
    if (size !== undefined && size > 0 && Number.isFinite(size))
      points.push({ size, undersize: Math.min(1, Math.max(0, reached)) });
  }
  if (worst > DIP_LIMIT && falls > rows.length / 3) {
    const other = kind === 'undersize' ? 'oversize' : 'undersize';
    const what = `the curve falls back by ${percent(worst)} %, so it is no ${kind}; is it ${other}?`;
    return question(where, what, 'kind');
  }
  if (worst > DIP_LIMIT) {
    const message = `the ${kind} ${kind === 'undersize' ? 'falls back' : 'rises again'} by ${percent(worst)} % here or just before; correct the cell`;
    return { place: `${file} (${worstRow.at})`, message };
  }
  if (worst > 1e-9) remarks.push(`the curve falls back by ${percent(worst)} %; read as level there`);
  if (reached > 1 + SUM_NOTE) remarks.push(`the curve reaches ${percent(reached)} %; cut at 100 %`);
  return { points, remarks };
}
