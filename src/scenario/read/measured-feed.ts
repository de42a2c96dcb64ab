import type { Table } from '../../model/parameters.ts';
import type { Evidence } from '../../model/sources.ts';
import { InputError } from '../errors.ts';
import type { MeasuredSample } from '../measurement/measured-sample.ts';
import { readMeasurement } from '../measurement/read-measurement.ts';
import { CHOICES, type ReadOptions } from '../measurement/reading-questions.ts';
import { averageRepeats } from '../measurement/replicates.ts';
import { namedBy } from './files.ts';
import { type Block, childOf, type Leaf, type Node } from './node.ts';
import { type Context, checkKeys, fault, join, missing, readChoice, readText } from './reading-context.ts';

/** A measured curve as a feed takes it: rows of size [m] and share finer, or of share and size where `shares`. */
interface MeasuredFeed {
  readonly node: Node;
  readonly points: Table;
  readonly shares: boolean;
  readonly evidence: Evidence;
}

const OPTIONS = Object.keys(CHOICES) as (keyof typeof CHOICES)[];
/** Fewer points are residues on one or two sieves, no curve. */
const LEAST_POINTS = 3;

/**
 * `feed: { file: … }`: a measured file, read as `grindloop read` reads it, with the same options as keys; several samples
 * of a file are repeats unless `sample` names one.
 */
export function readMeasuredFile(context: Context, block: Block, path: string): MeasuredFeed | undefined {
  checkKeys(context, block, path, [
    'law',
    'file',
    'sample',
    'source',
    'sizeUnit',
    'columns',
    'total',
    ...OPTIONS,
  ]);
  const place = join(path, 'file');
  const node = childOf(block, 'file');
  const file = readText(context, node, place, 400);
  const source = readText(context, childOf(block, 'source'), join(path, 'source'), 400);
  const wanted = readText(context, childOf(block, 'sample'), join(path, 'sample'), 200);
  const options = optionsOf(context, block, path);
  if (!node) missing(context, block, place, 'must be given: a file of measured sizes');
  if (file === undefined || options === undefined) return undefined;
  const samples = samplesFrom(context, node as Leaf, place, file, options);
  if (!samples) return undefined;
  const sample = oneOf(samples, wanted);
  if (typeof sample === 'string') {
    fault(context, node, place, `${file}: ${sample}`);
    return undefined;
  }
  const shares = sample.kind === 'percentiles';
  const points = sample.points.map(
    ({ size, undersize }) => (shares ? [undersize, size] : [size, undersize]) as [number, number],
  );
  if (points.length < (shares ? 2 : LEAST_POINTS)) {
    fault(
      context,
      node,
      place,
      `${file}: holds ${sample.understood}; a feed needs a curve, or two percentiles at least`,
    );
    return undefined;
  }
  const evidence: Evidence = { label: 'given', source: source === undefined ? file : `${file}: ${source}` };
  return { node: node!, points, shares, evidence };
}

function samplesFrom(
  context: Context,
  node: Leaf,
  place: string,
  file: string,
  options: ReadOptions,
): readonly MeasuredSample[] | undefined {
  let bytes: Uint8Array;
  try {
    bytes = context.readBytes(file, namedBy(node.origin));
  } catch (error) {
    fault(context, node, place, `${file} cannot be read: ${(error as Error).message}`);
    return undefined;
  }
  try {
    return readMeasurement(bytes, file, options, 'keys').samples;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    for (const one of error.faults) fault(context, node, place, `${one.place}: ${one.message}`);
    return undefined;
  }
}

/** The sample named, or the mean of all; or why there is none, in words. */
function oneOf(samples: readonly MeasuredSample[], wanted: string | undefined): MeasuredSample | string {
  const used = wanted === undefined ? samples : samples.filter(({ name }) => name === wanted);
  const names = samples.map(({ name }) => name).join(', ');
  if (used.length === 0) return `has no sample ${wanted}; there are ${names}`;
  const averaged = averageRepeats(used);
  if (typeof averaged === 'string') return `${averaged}; name one of ${names} with sample:`;
  return averaged.sample;
}

/** The options that stand in the block; undefined where one cannot be used. */
function optionsOf(context: Context, block: Block, path: string): ReadOptions | undefined {
  const before = context.faults.length;
  const options: Record<string, unknown> = {};
  for (const key of OPTIONS) {
    const choice = readChoice(
      context,
      childOf(block, key),
      join(path, key),
      CHOICES[key] as readonly string[],
    );
    if (choice !== undefined) options[key] = choice;
  }
  const unit = readText(context, childOf(block, 'sizeUnit'), join(path, 'sizeUnit'), 20)?.replace(
    /[µμ]/g,
    'u',
  );
  if (unit !== undefined && !options.unit) options.unit = unitOf(context, block, path, unit);
  const columns = readText(context, childOf(block, 'columns'), join(path, 'columns'), 400);
  if (columns !== undefined) options.columns = columns.split(/\s*[,;]\s*/);
  const total = readText(context, childOf(block, 'total'), join(path, 'total'), 40);
  if (total !== undefined) {
    options.total = Number(total);
    if (!(Number(total) > 0 && Number(total) <= 1e9))
      fault(
        context,
        childOf(block, 'total'),
        join(path, 'total'),
        `must be a mass above 0 as a bare number, is ${total}`,
      );
  }
  return context.faults.length > before ? undefined : (options as ReadOptions);
}

function unitOf(context: Context, block: Block, path: string, unit: string): string {
  if ((CHOICES.unit as readonly string[]).includes(unit)) return unit;
  fault(
    context,
    childOf(block, 'sizeUnit'),
    join(path, 'sizeUnit'),
    `must be one of ${CHOICES.unit.join(', ')}, is "${unit}"`,
  );
  return '';
}
