import { describeFault, type Fault, InputError } from '../errors.ts';
import { type DecimalSign, decimalSign, isNumeric } from './cell-number.ts';
import { decode, type Encoding } from './decode.ts';
import { findTables } from './find-tables.ts';
import type { MeasuredSample } from './measured-sample.ts';
import { percentileLists, percentileSample } from './percentile-samples.ts';
import { question, type ReadOptions } from './read-options.ts';
import { isSizeLike, toMetres } from './size-cell.ts';
import { type Separator, splitRows } from './split-rows.ts';
import { samplesOf, type TableContext } from './table-samples.ts';

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
 * @throws InputError with every open question at once, each naming the option that answers it
 * @example readMeasurement(new TextEncoder().encode('size um;undersize vol %\n10;50\n20;100'), 'a.csv')
 */
export function readMeasurement(bytes: Uint8Array, place: string, options: ReadOptions = {}): Reading {
  if (bytes.length === 0) throw new InputError([{ place, message: 'is empty' }]);
  const { text, encoding } = decode(bytes, options.encoding);
  const { rows, separator } = splitRows(text, options.separator);
  const tables = findTables(rows);
  const numeric = tables
    .flatMap((table) => table.body.flat())
    .filter((cell) => isNumeric(cell) || isSizeLike(cell));
  const decimal = options.decimal ?? (separator === 'comma' ? 'point' : decimalSign(numeric.map(barest)));
  if (!decimal) {
    throw new InputError([
      question(place, 'numbers such as 1,234 can be read with either decimal sign', 'decimal'),
    ]);
  }
  const lines = text.split('\n');
  const words = rows.map((row) => row.join(' ')).filter((line) => /[A-Za-zµμ]{2}/.test(line));
  const context: TableContext = { place, words, decimal, options };
  const samples: MeasuredSample[] = [];
  const faults: Fault[] = [];
  const unread: string[] = [];
  for (const table of tables) {
    const found = samplesOf(table, context);
    if (areSamples(found)) samples.push(...found);
    else if (table.body.length === 1 && tables.length > 1) unread.push(...found.map(describeFault));
    else faults.push(...found);
  }
  const lists = percentileLists(rows, lines, decimal);
  if (samples.length === 0 && lists.length > 0) {
    faults.length = 0;
    for (const { name, list } of lists) {
      const found = percentileSample(name, list, context);
      if ('message' in found) faults.push(found);
      else samples.push(found);
    }
  }
  // a block of other numbers beside a table that reads well is no fault of the file
  if (samples.length === 0 || (faults.length > 0 && tables.length === 1)) {
    throw new InputError(
      faults.length > 0 ? faults : [{ place, message: 'holds no table of sizes and no percentiles' }],
    );
  }
  refuseAbsurd(samples, place);
  return { encoding, separator, decimal, samples: withStated(named(samples, place), lists, options), unread };
}

/** Coarsest size a measurement may hold [m]: beyond it lies a slip of unit or of the decimal sign. */
const COARSEST = 10;

function refuseAbsurd(samples: readonly MeasuredSample[], place: string): void {
  const faults = samples.flatMap(({ name, points }) => {
    const coarse = points.find(({ size }) => !(size >= 0 && size <= COARSEST));
    const message = `must hold sizes up to ${COARSEST} m, has ${coarse?.size.toPrecision(3)} m${name && ` in ${name}`}; check --unit and --decimal`;
    return coarse ? [{ place, message }] : [];
  });
  if (faults.length > 0) throw new InputError(faults);
}

function areSamples(found: readonly MeasuredSample[] | readonly Fault[]): found is MeasuredSample[] {
  return found.length > 0 && 'points' in found[0]!;
}

function barest(cell: string): string {
  return cell.replace(/\s*(?:nm|[µμu]m|mm|mesh)$/i, '').split(/\s*[-–—]\s*/)[0]!;
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
): MeasuredSample[] {
  if (samples.length !== lists.length) return [...samples];
  return samples.map((sample, i) => {
    if (sample.kind !== 'curve') return sample;
    const stated = lists[i]!.list.flatMap(({ share, size, unit }) => {
      const metres = unit ? toMetres(size, unit, options) : Number.NaN;
      return typeof metres === 'number' && metres > 0 ? [{ size: metres, undersize: share }] : [];
    });
    return { ...sample, stated };
  });
}
