import type { Fault } from '../errors.ts';
import { volumeFromNumber } from './basis.ts';
import type { DecimalSign } from './cell-number.ts';
import { type Layout, layOut } from './column-layout.ts';
import { percent, pointsOf, type ValueRow } from './curve-points.ts';
import type { FoundTable } from './find-tables.ts';
import { basisIn, methodIn } from './heading.ts';
import type { Basis, MeasuredSample, Method, SizePoint } from './measured-sample.ts';
import { question, type ReadOptions } from './read-options.ts';
import { placeOf, type Row, readRows } from './size-rows.ts';
import { understood } from './understood.ts';
import { type Meaning, meaningOf } from './value-kind.ts';

const END_NOTE = 1e-3;
const CHECK_NOTE = 2e-3;

export interface TableContext {
  readonly place: string;
  /** Words of the whole file. */
  readonly words: readonly string[];
  readonly decimal: DecimalSign;
  readonly options: ReadOptions;
}

/** Every sample of one table, or every open question. */
export function samplesOf(table: FoundTable, context: TableContext): MeasuredSample[] | Fault[] {
  const { decimal, options } = context;
  const place = `${context.place} (line ${table.line})`;
  const layout = layOut(table, options);
  if (typeof layout === 'string') return [{ place, message: layout }];
  const rows = readRows(table.body, layout, context.words, decimal, options, place);
  if (rows.length === 0) return [{ place, message: 'holds no size that can be read' }];
  if (isFaults(rows)) return rows;
  const faults: Fault[] = [];
  const samples: MeasuredSample[] = [];
  for (const name of new Set(rows.map((row) => row.sample))) {
    const own = rows.filter((row) => row.sample === name);
    layout.values.forEach((_, index) => {
      const result = sampleAt(own, layout, index, name, table, context, place);
      if ('message' in result) faults.push(result);
      else samples.push(result);
    });
  }
  return faults.length > 0 ? onlyOnce(faults) : samples;
}

function isFaults(rows: readonly Row[] | readonly Fault[]): rows is Fault[] {
  return 'message' in rows[0]!;
}

function onlyOnce(faults: readonly Fault[]): Fault[] {
  return [...new Map(faults.map((fault) => [fault.message, fault])).values()];
}

function sampleAt(
  rows: readonly Row[],
  layout: Layout,
  index: number,
  rowName: string,
  table: FoundTable,
  context: TableContext,
  place: string,
): MeasuredSample | Fault {
  const { options } = context;
  const heading = layout.headings[layout.values[index]!]!;
  const size = layout.headings[layout.sizes[0]!]!;
  const words = [...table.remarks, ...context.words].join('\n');
  const method = options.method ?? heading.method ?? size.method ?? methodIn(words);
  const basis =
    options.basis ??
    heading.basis ??
    size.basis ??
    basisIn(words) ??
    (method === 'sieve' ? 'mass' : undefined);
  const values = rows.map((row) => withValue(row, row.values[index]!));
  const filled = values.map((row) => row.value).filter(Number.isFinite);
  const meaning = meaningOf(heading.role, filled, heading.percent, options, place);
  if ('message' in meaning) return meaning;
  if (!basis)
    return question(place, 'whether the values count volume, mass or number is not stated', 'basis');
  const column = layout.values[index]!;
  const result = pointsOf(
    values,
    meaning,
    placeOf(layout, column, method === 'sieve', options),
    options,
    place,
  );
  if ('message' in result) return result;
  const points = basis === 'number' ? volumeFromNumber(result.points) : result.points;
  const remarks = [
    ...result.remarks,
    ...endRemarks(points),
    ...checkRemarks(rows, index, points),
    ...(basis === 'number'
      ? ['number converted to volume by x³; noise at the coarse end is raised with it']
      : []),
    ...(layout.ignored.length > 0 ? [`columns not used: ${layout.ignored.join(', ')}`] : []),
  ];
  const name = rowName || heading.name || titleOf(table);
  return finished(name, points, meaning, basis, method, remarks);
}

function withValue(row: Row, value: number): ValueRow {
  const { lower, upper, size } = row;
  return {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(size === undefined ? {} : { size }),
    value,
  };
}

function titleOf(table: FoundTable): string {
  const line = table.remarks.find((text) => /sample|probe|[ée]chantillon|muestra/i.test(text));
  return line?.replace(/^.*?(?:sample(?: name)?|probe|[ée]chantillon|muestra)\s*[:=]?\s*/i, '').trim() ?? '';
}

function finished(
  name: string,
  points: readonly SizePoint[],
  meaning: Meaning,
  basis: Basis,
  method: Method | undefined,
  remarks: readonly string[],
): MeasuredSample {
  const kind = points.length <= 2 ? 'residues' : 'curve';
  return {
    name,
    kind,
    points,
    basis,
    ...(method ? { method } : {}),
    understood: understood(kind, points, meaning, basis, method),
    remarks,
    stated: [],
  };
}

function endRemarks(points: readonly SizePoint[]): string[] {
  if (points.length < 3) return [];
  const first = points[0]!;
  const last = points[points.length - 1]!;
  const remarks: string[] = [];
  if (first.undersize > END_NOTE) {
    remarks.push(
      `cut off at the fine end: ${percent(first.undersize)} % is finer than ${micrometres(first.size)} µm`,
    );
  }
  if (1 - last.undersize > END_NOTE) {
    remarks.push(
      `cut off at the coarse end: ${percent(1 - last.undersize)} % is coarser than ${micrometres(last.size)} µm`,
    );
  }
  return remarks;
}

/** Size in µm with four digits. */
function micrometres(size: number): string {
  return Number((size * 1e6).toPrecision(4)).toString();
}

/** In-class values beside cumulative ones must be the steps of the curve, whichever end of its class a size is. */
function checkRemarks(rows: readonly Row[], index: number, points: readonly SizePoint[]): string[] {
  if (rows[0]!.checks.length === 0 || points.length !== rows.length) return [];
  const checks = rows.map((row) => row.checks[index]!);
  const whole = checks.reduce((sum, value) => sum + (Number.isFinite(value) ? value : 0), 0) > 2 ? 100 : 1;
  const upper = checks
    .slice(1)
    .map((value, i) => value / whole - (points[i + 1]!.undersize - points[i]!.undersize));
  const lower = checks
    .slice(0, -1)
    .map((value, i) => value / whole - (points[i + 1]!.undersize - points[i]!.undersize));
  const worst = (errors: readonly number[]): number =>
    Math.max(...errors.filter(Number.isFinite).map(Math.abs));
  const off = Math.min(worst(upper), worst(lower));
  return off > CHECK_NOTE ? [`in-class and cumulative columns disagree by up to ${percent(off)} %`] : [];
}
