import { bracket } from '../../model/numerics/root.ts';
import { FEED_LAWS } from '../../model/psd/feed/index.ts';
import { type Fault, InputError } from '../../scenario/errors.ts';
import { percentileOf } from '../../scenario/measurement/measured-curve.ts';
import type { MeasuredSample } from '../../scenario/measurement/measured-sample.ts';
import { readMeasurement } from '../../scenario/measurement/read-measurement.ts';
import { CHOICES, type ReadOptions } from '../../scenario/measurement/reading-questions.ts';
import { type Averaged, averageRepeats } from '../../scenario/measurement/replicates.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { READING_COLUMNS } from './columns.ts';
import { bytesAt, type LogFiles } from './log-files.ts';
import type { LogRow } from './rows.ts';

/** A row whose size files have their places. */
interface PlacedRow extends Omit<LogRow, 'files'> {
  readonly files: readonly { readonly name: string; readonly place: string }[];
}

/** All samples of a row's files as one: they are repeats, unless the row names one. What is wrong goes to `faults`. */
export function sizesOfRow(
  row: PlacedRow,
  files: LogFiles,
  reading: ReadOptions,
  faults: Fault[],
): Averaged | undefined {
  const options = { ...reading, ...statedInRow(row, faults) };
  const samples: MeasuredSample[] = [];
  for (const file of row.files) {
    try {
      const { samples: found } = readMeasurement(bytesAt(file.place, files), file.place, options);
      const wanted = row.cells.sample;
      const used = wanted === undefined ? found : found.filter(({ name }) => name === wanted);
      if (used.length === 0)
        faults.push({
          place: row.place,
          message: `${file.name} has no sample ${wanted}; there are ${found.map(({ name }) => name).join(', ')}`,
        });
      samples.push(...used);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push(...error.faults);
    }
  }
  if (samples.length === 0) return undefined;
  const averaged = averageRepeats(samples);
  if (typeof averaged !== 'string') return averaged;
  faults.push({ place: row.place, message: averaged });
  return undefined;
}

const WORDS = {
  method: [
    [/^laser|beugung|diffraction/i, 'laser'],
    [/sie[bv]|tamis|air.?jet|luftstrahl/i, 'sieve'],
  ],
  basis: [
    [/^vol/i, 'volume'],
    [/^(?:mas|gew|weight)/i, 'mass'],
    [/^(?:number|anzahl)/i, 'number'],
  ],
  unit: [
    [/^(?:[µμu]m|microns?)$/i, 'um'],
    [/^nm$/i, 'nm'],
    [/^mm$/i, 'mm'],
    [/^m$/, 'm'],
    [/^mesh$/i, 'mesh'],
  ],
} as const;

/** What the row's own columns state of its size files. */
export function statedInRow({ cells, place }: Pick<LogRow, 'cells' | 'place'>, faults: Fault[]): ReadOptions {
  const stated: Record<string, string> = {};
  for (const [name, words] of Object.entries(WORDS)) {
    const cell = cells[name]?.trim();
    if (!cell) continue;
    const found = words.find(([pattern]) => pattern.test(cell));
    if (found) stated[name] = found[1];
    else {
      const known = [...new Set(words.map(([, word]) => word))].join(' | ');
      faults.push({ place: `${place} ${name}`, message: `must be ${known}, is "${cell.slice(0, 40)}"` });
    }
  }
  for (const { name, option } of READING_COLUMNS) {
    const cell = cells[name]?.trim();
    if (!cell) continue;
    const choices: readonly string[] = CHOICES[option];
    if (choices.includes(cell)) stated[option] = cell;
    else
      faults.push({
        place: `${place} ${name}`,
        message: `must be ${choices.join(' | ')}, is "${cell.slice(0, 40)}"`,
      });
  }
  return stated as ReadOptions;
}

/** One size file for two runs, or two files with one curve to the last digit: one of them belongs to another run. */
export function sharedFiles(rows: readonly PlacedRow[], sizes: readonly (Averaged | undefined)[]): Fault[] {
  const faults: Fault[] = [];
  const users = new Map<string, PlacedRow>();
  const curves = new Map<string, { row: PlacedRow; files: string }>();
  for (const [i, row] of rows.entries()) {
    const own = new Set<string>();
    for (const { name: file, place } of row.files) {
      const key = `${place}|${row.cells.sample ?? ''}`;
      const other = users.get(key);
      if (own.has(key))
        faults.push({ place: row.place, message: `names ${file} twice; a repeat has a file of its own` });
      else if (other)
        faults.push({
          place: row.place,
          message: `${file} is the size file of ${nameOf(other)} too; name the file of this run`,
        });
      own.add(key);
      users.set(key, row);
    }
    const sample = sizes[i]?.sample;
    if (!sample || own.size === 0) continue;
    const key = JSON.stringify(sample.points);
    const twin = curves.get(key);
    const names = row.files.map(({ name }) => name);
    if (twin && twin.files !== names.join())
      faults.push({
        place: row.place,
        message: `the curve of ${names.join(', ')} is that of ${twin.files} (${nameOf(twin.row)}) to the last digit; name the file of this run`,
      });
    else curves.set(key, { row, files: names.join() });
  }
  return faults;
}

function nameOf({ cells, place }: PlacedRow): string {
  return cells.trial === undefined ? place : `run ${cells.trial}`;
}

const SHARES = [0.1, 0.5, 0.9] as const;
/** A product within this of its feed at every percentile is the feed; a mill that breaks nothing is none. */
const SAME = 0.02;
/** A product coarser than its feed by more than analysers differ. */
const COARSER = 1.1;
/** A product finer than this at x90 [m] is no work of an impact mill (`assumed`). */
const FINEST = 0.5e-6;
const THOUSAND = [300, 3000] as const;

/** A product that is its feed, or coarser than it, or a thousand times out of place; undefined where nothing is wrong. */
export function againstFeed(sample: MeasuredSample, scenario: Scenario): string | undefined {
  const pairs = SHARES.map((share) => [percentileOf(sample, share), feedSize(scenario, share)] as const);
  const ratios = pairs.map(([product, feed]) => product / feed).filter(Number.isFinite);
  const [, [product, feed]] = pairs as [unknown, readonly [number, number]];
  const ratio = ratios.length > 0 ? Math.max(...ratios) : Number.NaN;
  const x90 = percentileOf(sample, 0.9);
  const says = `x50 ${micrometres(product)} µm, where the feed has ${micrometres(feed)} µm`;
  if (ratios.length > 1 && ratios.every((one) => Math.abs(one - 1) < SAME))
    return `this curve is that of the feed (${says}); name the file of the product`;
  if (ratio > THOUSAND[0] && ratio < THOUSAND[1])
    return `the product is about 1000 times as coarse as its feed (${says}): is the unit of its sizes µm?`;
  if (ratio > COARSER)
    return `the product is coarser than its feed (${says}): check the file, its unit, and the feed of the scenario`;
  if (x90 < FINEST)
    return `90 % of the product is finer than ${micrometres(x90)} µm, which no impact mill makes: is the unit of its sizes mm or µm?`;
  return undefined;
}

function micrometres(size: number): string {
  return Number.isFinite(size) ? Number((size * 1e6).toPrecision(3)).toString() : '–';
}

/** Size of the whole feed [m] that a share of it is finer than, by halving of ratios. */
function feedSize({ components }: Scenario, share: number): number {
  const below = (size: number): number =>
    components.reduce((sum, one) => sum + one.share * FEED_LAWS[one.feed.law]!.undersize(one.feed, size), 0);
  const left = bracket((size) => below(size) < share, 1e-8, 10, { within: 1e-6, byRatio: true });
  return Math.sqrt(left.holds * left.fails);
}
