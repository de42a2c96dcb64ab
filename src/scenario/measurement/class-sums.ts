import type { Fault } from '../errors.ts';
import { type SizeClass, sharesOfDensity } from './density-classes.ts';
import type { Place } from './heading.ts';
import type { SizePoint } from './measured-sample.ts';
import { type Question, question, type ReadOptions } from './reading-questions.ts';
import type { Meaning } from './value-kind.ts';
import { type Points, percent, type ValueRow } from './value-row.ts';

const SUM_NOTE = 5e-4;
const SUM_LIMIT = 0.02;

/** Cumulative undersize from values by class: shares, masses or densities. */
export function classSums(
  rows: readonly ValueRow[],
  meaning: Meaning,
  place: Place | undefined,
  options: ReadOptions,
  where: string,
): Points | Fault | Question {
  const remarks: string[] = [];
  const found = sharesOf(rows, meaning, place, options, where);
  if (!('classes' in found)) return found;
  const { classes } = found;
  remarks.push(...found.remarks);
  if (place === 'middle')
    remarks.push('sizes are mid-points; class ends taken as geometric means between them');
  const sum = classes.reduce((total, one) => total + one.share, 0);
  const missing = 1 - sum;
  const passed = meaning.kind === 'retained-mass' && !hasPan(rows);
  if (!passed && missing < -SUM_LIMIT) return { place: where, message: tooMuch(sum, classes, meaning) };
  if (Math.abs(missing) > SUM_NOTE && !passed)
    remarks.push(`the classes sum to ${percent(sum)} %, not 100 %`);
  if (missing > SUM_LIMIT && !options.missing && !passed)
    return question(
      where,
      `the classes sum to ${percent(sum)} %${asDensity(classes, meaning)}; where does the rest lie?`,
      'missing',
    );
  const treat = options.missing ?? (passed ? 'fine' : 'spread');
  if (Math.abs(missing) > SUM_NOTE)
    remarks.push(treat === 'spread' ? 'spread over all classes' : `the rest counted as ${treat}`);
  const scale = treat === 'spread' ? 1 / sum : 1;
  let reached = treat === 'fine' ? missing : 0;
  const points: SizePoint[] = [];
  if (classes[0]!.lower > 0) points.push({ size: classes[0]!.lower, undersize: Math.max(0, reached) });
  for (const one of classes) {
    reached += one.share * scale;
    if (Number.isFinite(one.upper))
      points.push({ size: one.upper, undersize: Math.min(1, Math.max(0, reached)) });
  }
  return { points, remarks };
}

function tooMuch(sum: number, classes: readonly SizeClass[], meaning: Meaning): string {
  const what = `the classes sum to ${percent(sum)} %, above 100 %`;
  if (meaning.kind === 'retained-mass') return `${what}: more lies on the sieves than --total`;
  return `${what}${asDensity(classes, meaning)}; correct the cells, or state what the values are with --kind`;
}

/** Whether the values sum to 100 % as a density, in words; nothing where they do not. */
function asDensity(classes: readonly SizeClass[], meaning: Meaning): string {
  if (meaning.kind !== 'in-class') return '';
  const { exact } = sharesOfDensity(classes, { log: false });
  return exact ? ' (as a density per µm, mm or nm they sum to 100 %: then state --kind density)' : '';
}

function sharesOf(
  rows: readonly ValueRow[],
  meaning: Meaning,
  place: Place | undefined,
  options: ReadOptions,
  where: string,
): { classes: readonly SizeClass[]; remarks: readonly string[] } | Fault | Question {
  const isDensity = meaning.kind === 'density' || meaning.kind === 'log-density';
  const whole = isDensity ? 1 : wholeOf(rows, meaning, options);
  if (whole === undefined)
    return question(where, 'the masses have no pan, so the mass put on the sieves is not known', 'total');
  const classes = classesOf(rows, place, whole);
  if (classes === undefined)
    return question(
      where,
      `the ${isDensity ? 'density' : 'in-class'} values do not say whether a size is the upper end, the lower end or the middle of its class`,
      'sizes',
    );
  if (!isDensity) return { classes, remarks: [] };
  return sharesOfDensity(classes, {
    log: meaning.kind === 'log-density',
    ...(meaning.per ? { per: meaning.per } : {}),
  });
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
function classesOf(
  rows: readonly ValueRow[],
  place: Place | undefined,
  whole: number,
): SizeClass[] | undefined {
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
