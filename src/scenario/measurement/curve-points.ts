import type { Fault } from '../errors.ts';
import type { Place } from './heading.ts';
import type { SizePoint } from './measured-sample.ts';
import { question, type ReadOptions } from './read-options.ts';
import type { Meaning } from './value-kind.ts';

/** A row of one sample: its size or class [m] and its value as written. */
export interface ValueRow {
  readonly lower?: number;
  readonly upper?: number;
  readonly size?: number;
  readonly value: number;
}

export interface Points {
  readonly points: readonly SizePoint[];
  readonly remarks: readonly string[];
}

const SUM_NOTE = 5e-4;
const SUM_LIMIT = 0.02;
const DIP_LIMIT = 0.01;

/**
 * Cumulative undersize from a sample's rows.
 *
 * @param rows ascending in size
 * @param place where in its class a lone size lies; needed for in-class values only
 */
export function pointsOf(
  rows: readonly ValueRow[],
  meaning: Meaning,
  place: Place | undefined,
  options: ReadOptions,
  where: string,
): Points | Fault {
  const filled = rows.filter((row) => Number.isFinite(row.value));
  if (filled.length === 0) return { place: where, message: 'holds no values' };
  if (filled.some((row) => row.value < 0)) return { place: where, message: 'holds values below 0' };
  if (meaning.kind === 'undersize' || meaning.kind === 'oversize') {
    return cumulative(filled, meaning.kind, meaning.whole!, where);
  }
  return summed(rows, meaning, place, options, where);
}

function cumulative(
  rows: readonly ValueRow[],
  kind: 'undersize' | 'oversize',
  whole: number,
  where: string,
): Points | Fault {
  const remarks: string[] = [];
  let reached = 0;
  let worst = 0;
  const points: SizePoint[] = [];
  for (const row of rows) {
    const share = row.value / whole;
    const undersize = kind === 'undersize' ? share : 1 - share;
    worst = Math.max(worst, reached - undersize);
    reached = Math.max(reached, undersize);
    const size = row.size ?? (kind === 'undersize' ? (row.upper ?? row.lower) : (row.lower ?? row.upper));
    if (size !== undefined && size > 0 && Number.isFinite(size))
      points.push({ size, undersize: Math.min(1, reached) });
  }
  if (worst > DIP_LIMIT) {
    const other = kind === 'undersize' ? 'oversize' : 'undersize';
    return question(
      where,
      `the curve falls back by ${percent(worst)} %, so it is no ${kind}; is it ${other}?`,
      'kind',
    );
  }
  if (worst > 1e-9) remarks.push(`the curve falls back by ${percent(worst)} %; read as level there`);
  if (reached > 1 + SUM_NOTE) remarks.push(`the curve reaches ${percent(reached)} %; cut at 100 %`);
  return { points, remarks };
}

interface Class {
  readonly lower: number;
  readonly upper: number;
  readonly share: number;
}

function summed(
  rows: readonly ValueRow[],
  meaning: Meaning,
  place: Place | undefined,
  options: ReadOptions,
  where: string,
): Points | Fault {
  const remarks: string[] = [];
  const whole = wholeOf(rows, meaning, options);
  if (whole === undefined) {
    return question(where, 'the masses have no pan, so the mass put on the sieves is not known', 'total');
  }
  const classes = classesOf(rows, place, whole);
  if (classes === undefined) {
    return question(
      where,
      'the in-class values do not say whether a size is the upper end, the lower end or the middle of its class',
      'sizes',
    );
  }
  if (place === 'middle')
    remarks.push('sizes are mid-points; class ends taken as geometric means between them');
  const sum = classes.reduce((total, one) => total + one.share, 0);
  const missing = 1 - sum;
  const passed = meaning.kind === 'retained-mass' && !hasPan(rows);
  if (Math.abs(missing) > SUM_NOTE && !passed)
    remarks.push(`the classes sum to ${percent(sum)} %, not 100 %`);
  if (Math.abs(missing) > SUM_LIMIT && !options.missing && !passed) {
    return question(where, `the classes sum to ${percent(sum)} %; where does the rest lie?`, 'missing');
  }
  const treat = options.missing ?? (passed ? 'fine' : 'spread');
  if (Math.abs(missing) > SUM_NOTE)
    remarks.push(treat === 'spread' ? 'spread over all classes' : `the rest counted as ${treat}`);
  const scale = treat === 'spread' ? 1 / sum : 1;
  let reached = treat === 'fine' ? missing : 0;
  const points: SizePoint[] = [];
  if (classes[0]!.lower > 0) points.push({ size: classes[0]!.lower, undersize: reached });
  for (const one of classes) {
    reached += one.share * scale;
    if (Number.isFinite(one.upper)) points.push({ size: one.upper, undersize: Math.min(1, reached) });
  }
  return { points, remarks };
}

function wholeOf(rows: readonly ValueRow[], meaning: Meaning, options: ReadOptions): number | undefined {
  if (meaning.kind !== 'retained-mass') return meaning.whole;
  if (options.total !== undefined) return options.total;
  return hasPan(rows)
    ? rows.reduce((sum, row) => sum + (Number.isFinite(row.value) ? row.value : 0), 0)
    : undefined;
}

function hasPan(rows: readonly ValueRow[]): boolean {
  return rows.some((row) => row.size === 0 || row.lower === 0);
}

/** Classes from rows: as given at both ends; as n+1 sizes for n values; or by where in its class a size lies. */
function classesOf(rows: readonly ValueRow[], place: Place | undefined, whole: number): Class[] | undefined {
  const share = (row: ValueRow): number => (Number.isFinite(row.value) ? row.value / whole : 0);
  if (rows.every((row) => row.lower !== undefined && row.upper !== undefined)) {
    return rows.map((row) => ({ lower: row.lower!, upper: row.upper!, share: share(row) }));
  }
  const sizes = rows.map((row) => row.size ?? row.lower ?? row.upper!);
  const firstOpen = !Number.isFinite(rows[0]!.value);
  const lastOpen = !Number.isFinite(rows[rows.length - 1]!.value);
  const at = firstOpen ? 'upper' : lastOpen ? 'lower' : place;
  if (at === undefined) return undefined;
  if (at === 'upper') {
    const classes = rows.map((row, i) => ({ lower: sizes[i - 1] ?? 0, upper: sizes[i]!, share: share(row) }));
    return firstOpen ? classes.slice(1) : classes;
  }
  if (at === 'lower') {
    const top = Number.POSITIVE_INFINITY;
    const classes = rows.map((row, i) => ({
      lower: sizes[i]!,
      upper: sizes[i + 1] ?? top,
      share: share(row),
    }));
    return lastOpen ? classes.slice(0, -1) : classes;
  }
  const ends = middleEnds(sizes);
  return rows.map((row, i) => ({ lower: ends[i]!, upper: ends[i + 1]!, share: share(row) }));
}

function middleEnds(sizes: readonly number[]): number[] {
  const inner = sizes.slice(1).map((size, i) => Math.sqrt(size * sizes[i]!));
  const first = sizes.length > 1 ? sizes[0]! ** 2 / inner[0]! : sizes[0]!;
  const last = sizes.length > 1 ? sizes[sizes.length - 1]! ** 2 / inner[inner.length - 1]! : sizes[0]!;
  return [first, ...inner, last];
}

/** Share as percent with three digits. */
export function percent(share: number): string {
  return Number((100 * share).toPrecision(4)).toString();
}
