import type { Fault } from '../errors.ts';
import type { DecimalSign } from './cell-number.ts';
import { type Layout, layOut } from './column-layout.ts';
import { pointsOf } from './curve-points.ts';
import { basisOfFile, methodIn, seriesIn } from './heading.ts';
import type { Basis, MeasuredSample, Method, SizePoint } from './measured-sample.ts';
import { type Question, question, type ReadOptions } from './reading-questions.ts';
import { placeOf, type Row, readRows } from './size-rows.ts';
import type { FoundTable } from './tables-in-file.ts';
import { understood } from './understood.ts';
import { type Meaning, meaningOf } from './value-kind.ts';
import { percent, type ValueRow } from './value-row.ts';
import { volumeFromNumber } from './volume-from-number.ts';

const END_NOTE = 1e-3;
const CHECK_NOTE = 2e-3;
/** Beyond this a column by class and a cumulative one are not of the same measurement. */
const CHECK_LIMIT = 0.02;
/** A scale this near to 1 or 100 is a share's; another is that of a mass. */
const PLAIN_SCALE = 0.05;

export interface TableContext {
  readonly place: string;
  /** Words of the whole file. */
  readonly words: readonly string[];
  readonly decimal: DecimalSign;
  readonly options: ReadOptions;
}

/** A table as it was read: its samples, and every fault and open question. `noSizes` where it is no table of sizes at all. */
interface TableReading {
  readonly samples: readonly MeasuredSample[];
  readonly faults: readonly (Fault | Question)[];
  readonly noSizes: boolean;
}

/** Every sample of one table, and all that stands in the way of reading it, so that it can be answered at once. */
export function samplesOf(table: FoundTable, context: TableContext): TableReading {
  const place = `${context.place} (line ${table.line})`;
  const layout = layOut(table, context.options);
  if (typeof layout === 'string') return { samples: [], faults: [{ place, message: layout }], noSizes: true };
  const words = [...table.remarks, ...context.words];
  const series =
    context.options.series ?? seriesIn([...layout.headings.map(({ text }) => text), ...words].join('\n'));
  const options = series ? { ...context.options, series } : context.options;
  const { rows, faults: found } = readRows(table, layout, context.words, context.decimal, options, place);
  const faults = [...found];
  if (rows.length === 0) {
    const none = { place, message: 'has no readable size' };
    return { samples: [], faults: [...faults, none], noSizes: false };
  }
  const bad = found.some((fault) => !('option' in fault));
  const samples: MeasuredSample[] = [];
  for (const name of new Set(rows.map((row) => row.sample))) {
    const own = rows.filter((row) => row.sample === name);
    for (let index = 0; index < layout.values.length; index++) {
      const result = sampleAt({
        rows: own,
        layout,
        index,
        name,
        table,
        context: { ...context, options },
        place,
      });
      // what follows from a bad row is no fault of its own; questions stay, so that they are answered at once
      faults.push(
        ...(bad
          ? result.faults.filter((fault) => 'option' in fault && fault.option !== 'kind')
          : result.faults),
      );
      if (result.sample) samples.push(result.sample);
    }
  }
  return { samples: faults.length > 0 ? [] : samples, faults, noSizes: false };
}

interface SampleColumn {
  readonly rows: readonly Row[];
  readonly layout: Layout;
  readonly index: number;
  readonly name: string;
  readonly table: FoundTable;
  readonly context: TableContext;
  readonly place: string;
}

interface SampleReading {
  readonly sample?: MeasuredSample;
  readonly faults: readonly (Fault | Question)[];
}

function sampleAt(column: SampleColumn): SampleReading {
  const { rows, layout, index, table, context, place } = column;
  const { options } = context;
  const heading = layout.headings[layout.values[index]!]!;
  const words = [...table.remarks, ...context.words].join('\n');
  const method = methodOf(column, words);
  const faults: (Fault | Question)[] = [];
  const basis = basisOf(column, words, method);
  if (basis === undefined)
    faults.push(question(place, 'whether the values count volume, mass or number is not stated', 'basis'));
  else if (typeof basis === 'object') faults.push(basis);
  const values = rows.map((row) => withValue(row, row.values[index]!));
  const filled = values.map((row) => row.value).filter(Number.isFinite);
  if (filled.length === 0) return { faults: [...faults, { place, message: 'holds no values' }] };
  const meaning = meaningOf(heading.role, filled, heading.percent, options, place, heading.text);
  if ('message' in meaning) return { faults: [...faults, meaning] };
  faults.push(...gaps(column, values, meaning));
  const pan = rows.some((row) => row.pan);
  const sizesAt = placeOf(layout, layout.values[index]!, method === 'sieve', pan, options);
  const result = pointsOf(values, meaning, sizesAt, options, place, context.place);
  if ('message' in result) faults.push(result);
  else faults.push(...checkFaults(column, result.points));
  if (faults.length > 0 || 'message' in result || typeof basis !== 'string') return { faults };
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
  const name = column.name || heading.name || titleOf(table);
  return { sample: finished(name, points, meaning, basis, method, remarks), faults };
}

/** Method as stated, as the headings or the words around the table say, or a sieve where there is a pan. */
function methodOf({ rows, layout, index, context }: SampleColumn, words: string): Method | undefined {
  const heading = layout.headings[layout.values[index]!]!;
  const size = layout.headings[layout.sizes[0]!]!;
  const pan = rows.some((row) => row.pan);
  return (
    context.options.method ?? size.method ?? heading.method ?? methodIn(words) ?? (pan ? 'sieve' : undefined)
  );
}

/** Basis of a column; a fault where an option contradicts the heading: number for volume moves every size. */
function basisOf(
  { layout, index, context, place }: SampleColumn,
  words: string,
  method: Method | undefined,
): Basis | Fault | undefined {
  const heading = layout.headings[layout.values[index]!]!;
  const said = heading.basis ?? layout.headings[layout.sizes[0]!]!.basis;
  const { basis } = context.options;
  if (basis && said && (basis === 'number') !== (said === 'number'))
    return {
      place,
      message: `basis ${basis} is stated, but the heading says ${said}: "${heading.text}"; omit the option, or correct the heading`,
    };
  return basis ?? said ?? basisOfFile(words) ?? (method === 'sieve' ? 'mass' : undefined);
}

/** Empty cells inside a curve, and at the end of one that stands alone: what they held must not be lost in silence. */
function gaps(
  { rows, layout, context }: SampleColumn,
  values: readonly ValueRow[],
  meaning: Meaning,
): Fault[] {
  const filled = values.map(({ value }) => Number.isFinite(value));
  const first = filled.indexOf(true);
  const last = filled.lastIndexOf(true);
  const lone = layout.values.length === 1 && layout.sample === undefined;
  const cumulative = meaning.kind === 'undersize' || meaning.kind === 'oversize';
  return rows.flatMap((row, i) => {
    const inside = i > first && i < last;
    const openEnd = !cumulative && (i === 0 || i === rows.length - 1);
    const noSize = row.pan || row.upper === Number.POSITIVE_INFINITY || row.lower === 0;
    if (filled[i] || !(inside || (lone && !openEnd && !noSize))) return [];
    return [
      {
        place: `${context.place} (${row.at})`,
        message: 'the value is missing; write it, or take the row out',
      },
    ];
  });
}

function withValue(row: Row, value: number): ValueRow {
  const { lower, upper, size } = row;
  return {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(size === undefined ? {} : { size }),
    value,
    at: row.at,
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

/** Steps of a check column against those of the curve, whichever end of its class a size is. */
function stepErrors(rows: readonly Row[], index: number, points: readonly SizePoint[]): number[] {
  const held = rows.filter((row) => (row.size ?? row.lower ?? row.upper ?? 0) > 0);
  if (held.length === 0 || held[0]!.checks.length === 0 || points.length !== held.length) return [];
  const checks = held.map((row) => row.checks[index]!);
  const steps = points.slice(1).map(({ undersize }, i) => undersize - points[i]!.undersize);
  const errors = [checks.slice(1), checks.slice(0, -1)].map((side) => {
    const pairs = side
      .map((value, i) => [value, steps[i]!] as const)
      .filter(([value]) => Number.isFinite(value));
    const square = pairs.reduce((sum, [value]) => sum + value * value, 0);
    if (square === 0) return [];
    // masses have no unit here: they are scaled to the steps, percent and fractions to 100 or 1
    const fitted = pairs.reduce((sum, [value, step]) => sum + value * step, 0) / square;
    const plain = [1, 0.01].find((scale) => Math.abs(scale / fitted - 1) < PLAIN_SCALE);
    return side.map((value, i) => (Number.isFinite(value) ? value * (plain ?? fitted) - steps[i]! : 0));
  });
  const worst = (side: readonly number[]): number =>
    side.reduce((most, error) => Math.max(most, Math.abs(error)), 0);
  const used = errors.filter((side) => side.length > 0);
  return used.length === 0 ? [] : used.reduce((a, b) => (worst(b) < worst(a) ? b : a));
}

/** A cell of the cumulative or of the check column that cannot belong to the other. */
function checkFaults({ rows, index, context }: SampleColumn, points: readonly SizePoint[]): Fault[] {
  const errors = stepErrors(rows, index, points);
  const held = rows.filter((row) => (row.size ?? row.lower ?? row.upper ?? 0) > 0);
  const worst = errors.reduce((at, error, i) => (Math.abs(error) > Math.abs(errors[at]!) ? i : at), 0);
  if (errors.length === 0 || Math.abs(errors[worst]!) <= CHECK_LIMIT) return [];
  const message = `the cumulative column and the column by class disagree by ${percent(Math.abs(errors[worst]!))} % between here and ${held[worst + 1]!.at}; correct one, or name the columns to use with --columns`;
  return [{ place: `${context.place} (${held[worst]!.at})`, message }];
}

function checkRemarks(rows: readonly Row[], index: number, points: readonly SizePoint[]): string[] {
  const off = stepErrors(rows, index, points).reduce((most, error) => Math.max(most, Math.abs(error)), 0);
  return off > CHECK_NOTE ? [`in-class and cumulative columns disagree by up to ${percent(off)} %`] : [];
}
