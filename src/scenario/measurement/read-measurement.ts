import { describeFault, type Fault, InputError } from '../errors.ts';
import { type DecimalSign, decimalSign, isNumeric } from './cell-number.ts';
import { decode, type Encoding, noText } from './decode.ts';
import type { MeasuredSample } from './measured-sample.ts';
import { percentileLists, percentileSample } from './percentile-samples.ts';
import { implausible } from './plausible-sizes.ts';
import { asked, type Question, question, type ReadOptions, type StatedAs } from './reading-questions.ts';
import { isSizeLike, toMetres } from './size-cell.ts';
import { type Separator, splitRows, tooLarge } from './split-rows.ts';
import { samplesOf, type TableContext } from './table-samples.ts';
import { type FoundTable, findTables } from './tables-in-file.ts';

/** A file as it was understood. */
export interface Reading {
  readonly encoding: Encoding;
  readonly separator: Separator;
  readonly decimal: DecimalSign;
  readonly samples: readonly MeasuredSample[];
  /** Blocks of numbers beside the tables that no use was made of, and why. */
  readonly unread: readonly string[];
}

/**
 * Reads what an analyser or a sieve stack gives: any separator, decimal sign and encoding; columns in any order; sizes in
 * nm, µm, mm or mesh; cumulative, in-class or retained values; several samples; percentiles or residues alone.
 *
 * @param bytes file content
 * @param place file name, for messages
 * @param options what the user states beyond the file
 * @param as how the options are stated where the file is named: on a command line, or as keys of a block
 * @throws InputError with every open question at once, each naming the option that answers it
 * @example readMeasurement(new TextEncoder().encode('size um;undersize vol %\n10;50\n20;100'), 'a.csv')
 */
export function readMeasurement(
  bytes: Uint8Array,
  place: string,
  options: ReadOptions = {},
  as: StatedAs = 'options',
): Reading {
  const refused = noText(bytes, place);
  if (refused) throw new InputError([{ place, message: refused }]);
  const { text, encoding } = decode(bytes, options.encoding);
  const large = tooLarge(text);
  if (large) throw new InputError([{ place, message: large }]);
  const { rows, separator } = splitRows(text, options.separator);
  const tables = findTables(rows);
  const decimal = options.decimal ?? (separator === 'comma' ? 'point' : decimalOf(tables));
  if (!decimal) {
    const what = 'numbers such as 1,234 can be read with either decimal sign, or both notations occur';
    throw new InputError(asked([question(place, what, 'decimal')], as));
  }
  const words = rows.map((row) => row.join(' ')).filter((line) => /[A-Za-zµμ]{2}/.test(line));
  const context: TableContext = { place, words, decimal, options };
  const { samples, faults, unread } = fromTables(tables, context);
  const lists = percentileLists(rows, text.split('\n'), decimal);
  if (samples.length === 0 && lists.length > 0 && tables.every(({ body }) => body.length < LEAST_ROWS)) {
    faults.length = 0;
    for (const { name, list } of lists) {
      const found = percentileSample(name, list, context);
      if ('message' in found) faults.push(found);
      else samples.push(found);
    }
  }
  if (samples.length === 0 && faults.length === 0)
    faults.push({ place, message: 'has no table of sizes and no percentiles' });
  if (faults.length > 0) throw new InputError(asked(faults, as));
  const read = withStated(named(samples, place), lists, options, place);
  const absurd = read.flatMap((sample) => implausible(sample, place));
  if (absurd.length > 0) throw new InputError(asked(absurd, as));
  return { encoding, separator, decimal, samples: read, unread };
}

/** A block of numbers is a table from this many rows on; percentiles in one line are none. */
const LEAST_ROWS = 3;

function decimalOf(tables: readonly FoundTable[]): DecimalSign | undefined {
  const cells = tables
    .flatMap(({ body }) => body.flat())
    .filter((cell) => isNumeric(cell) || isSizeLike(cell));
  return decimalSign(cells.map(barest));
}

/** Samples of all tables. A block that is no table of sizes is kept as not read, beside one that is; any other fault stops. */
function fromTables(tables: readonly FoundTable[], context: TableContext) {
  const samples: MeasuredSample[] = [];
  const faults: (Fault | Question)[] = [];
  const other: Fault[] = [];
  for (const table of tables) {
    const found = samplesOf(table, context);
    samples.push(...found.samples);
    if (found.noSizes) other.push(...found.faults);
    else faults.push(...found.faults);
  }
  if (samples.length === 0 && faults.length === 0) faults.push(...other);
  return { samples, faults, unread: other.map(describeFault) };
}

/** Every sample with a name of its own. */
function named(samples: readonly MeasuredSample[], place: string): MeasuredSample[] {
  const base = place.replace(/^.*[\\/]/, '').replace(/\.[^.]+$/, '');
  const taken = new Map<string, number>();
  return samples.map((sample) => {
    const wanted = sample.name || base;
    const count = (taken.get(wanted) ?? 0) + 1;
    taken.set(wanted, count);
    return { ...sample, name: count === 1 ? wanted : `${wanted} ${count}` };
  });
}

/** Percentiles the file states beside its one curve, kept so that the reading can be held against them. */
function withStated(
  samples: readonly MeasuredSample[],
  lists: ReturnType<typeof percentileLists>,
  options: ReadOptions,
  place: string,
): MeasuredSample[] {
  if (samples.length !== lists.length) return [...samples];
  return samples.map((sample, i) => {
    if (sample.kind !== 'curve') return sample;
    const stated = lists[i]!.list.flatMap(({ share, size, unit }) => {
      const metres = unit ? toMetres(size, unit, options, place) : Number.NaN;
      return typeof metres === 'number' && metres > 0 ? [{ size: metres, undersize: share }] : [];
    });
    return { ...sample, stated };
  });
}

function barest(cell: string): string {
  return cell.replace(/\s*(?:nm|[µμu]m|mm|mesh)$/i, '').split(/\s*[-–—]\s*/)[0]!;
}
