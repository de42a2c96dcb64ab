import type { Fault } from '../errors.ts';
import { type DecimalSign, isNumeric, parseNumber } from './cell-number.ts';
import { basisIn, methodIn } from './heading.ts';
import type { MeasuredSample, SizePoint } from './measured-sample.ts';
import { type Question, question } from './reading-questions.ts';
import { toMetres } from './size-cell.ts';
import { percentileShare, percentilesIn, type StatedPercentile, unitIn } from './stated-percentiles.ts';
import type { TableContext } from './table-samples.ts';

/** Percentiles standing in the file, one list a sample: each a row under headings d10 d50 d90, or lines `d50 = 12 µm`. */
export function percentileLists(
  rows: readonly (readonly string[])[],
  lines: readonly string[],
  decimal: DecimalSign,
): { name: string; list: StatedPercentile[] }[] {
  const lists: { name: string; list: StatedPercentile[] }[] = [];
  for (let at = 0; at < rows.length; at++) {
    const shares = rows[at]!.map(percentileShare);
    if (shares.filter((share) => share !== undefined).length < 2) continue;
    const unitRow = rows[at + 1]?.every((cell) => cell === '' || !isNumeric(cell)) ? rows[at + 1] : undefined;
    for (const row of rows.slice(at + (unitRow ? 2 : 1))) {
      const list = shares.flatMap((share, column) => {
        const size = parseNumber((row[column] ?? '').replace(/[a-zµμ]+$/i, ''), decimal);
        const unit =
          unitIn(rows[at]![column]!) ?? unitIn(unitRow?.[column] ?? '') ?? unitIn(row[column] ?? '');
        return share !== undefined && size > 0 ? [{ share, size, ...(unit ? { unit } : {}) }] : [];
      });
      if (list.length === 0) break;
      const name =
        row.find((cell, column) => shares[column] === undefined && cell !== '' && !isNumeric(cell)) ?? '';
      lists.push({ name, list });
    }
  }
  const loose = lines.flatMap((line) => percentilesIn(line, decimal));
  if (lists.length === 0 && loose.length > 0) lists.push({ name: '', list: loose });
  return lists;
}

/** A sample that is known by percentiles alone. */
export function percentileSample(
  name: string,
  list: readonly StatedPercentile[],
  context: TableContext,
): MeasuredSample | Fault | Question {
  const { options, place } = context;
  const words = context.words.join('\n');
  const points: SizePoint[] = [];
  for (const { share, size, unit } of list) {
    const stated = unit ?? options.unit ?? unitIn(words);
    if (!stated) return question(place, 'the unit of the percentiles is not stated', 'unit');
    const metres = toMetres(size, stated, options, place);
    if (typeof metres !== 'number') return metres;
    points.push({ size: metres, undersize: share });
  }
  points.sort((a, b) => a.undersize - b.undersize);
  const back = points.findIndex((point, i) => i > 0 && point.size <= points[i - 1]!.size);
  if (back > 0) return { place, message: 'the percentiles do not rise with their share' };
  const method = options.method ?? methodIn(words);
  const basis =
    options.basis ?? basisIn(words) ?? (/[dx]\s*[[({]?\s*v|[dx]\d+,3/i.test(words) ? 'volume' : undefined);
  if (!basis)
    return question(place, 'whether the percentiles count volume, mass or number is not stated', 'basis');
  if (basis === 'number')
    return { place, message: 'percentiles by number cannot be turned into volume; export the curve' };
  const shares = points.map((point) => `x${Number((100 * point.undersize).toPrecision(4))}`).join(', ');
  return {
    name,
    kind: 'percentiles',
    points,
    basis,
    ...(method ? { method } : {}),
    understood: `percentiles alone: ${shares}, by ${basis}, ${method ?? 'method not stated'}`,
    remarks: [],
    stated: [],
  };
}
