import type { Parameter } from '../../model/parameters.ts';
import type { Factor } from '../scenario.ts';
import { isProblem } from '../units/unit-problem.ts';
import { type Around, type FactorEnd, type FactorReader, factorReader } from './factor-reader.ts';
import { childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice, readText } from './reading-context.ts';

const MOST_LEVELS = 100_000;
const STEPS: Parameter = {
  name: 'steps',
  symbol: 'n',
  unit: '1',
  shownIn: '1',
  meaning: 'number of values',
  minimum: 1,
  maximum: MOST_LEVELS,
  integer: true,
  optional: true,
};

/**
 * One factor of a sweep: `{ from, to, steps, scale }`, a list of values, or one value.
 *
 * @param key name or dotted path as the file has it
 * @param wheels wheels the sweep uses
 */
export function readFactor(
  context: Context,
  node: Node,
  place: string,
  key: string,
  around: Around,
  wheels: readonly string[],
): Factor | undefined {
  const reader = factorReader(context, key, around, wheels);
  if (typeof reader === 'string') {
    fault(context, node, place, reader);
    return undefined;
  }
  if (node.kind === 'block') return readSpan(context, node, place, reader);
  const items = node.kind === 'list' ? node.items : [node];
  if (items.length === 0 || items.length > MOST_LEVELS) {
    fault(context, node, place, `must have 1 to ${MOST_LEVELS} values`);
    return undefined;
  }
  return readLevels(context, items, place, reader);
}

function readLevels(
  context: Context,
  items: readonly Node[],
  place: string,
  reader: FactorReader,
): Factor | undefined {
  const names = reader.names;
  if (names) {
    const levels = items.flatMap((item, i) => readChoice(context, item, `${place}[${i}]`, names) ?? []);
    repeatedLevel(context, items, place, levels);
    return levels.length === items.length
      ? { kind: 'levels', path: reader.path, levels, shownIn: '1' }
      : undefined;
  }
  const ends = items.flatMap((item, i) =>
    rangeAsText(context, item, `${place}[${i}]`)
      ? []
      : (readEnd(context, item, `${place}[${i}]`, reader) ?? []),
  );
  if (ends.length < items.length) return undefined;
  const { as, shownIn } = ends[0]!;
  if (ends.some((end) => end.as !== as)) {
    fault(context, items[0], place, 'must have all its values in the same kind of unit');
    return undefined;
  }
  repeatedLevel(
    context,
    items,
    place,
    ends.map(({ value }) => value),
  );
  return {
    kind: 'levels',
    path: reader.path,
    levels: ends.map(({ value }) => value),
    shownIn,
    ...(as ? { as } : {}),
  };
}

/** Two numbers in one text, as `80..320 kg/h step 60` or `1000 to 3000 rpm`: a range, written in words of its own. */
const NUMBER = String.raw`(\d+(?:[.,]\d+)*(?:e[-+]?\d+)?)`;
const RANGE = new RegExp(
  String.raw`^\s*${NUMBER}\s*(?!e[-+]?\d)([^\d\s.…:–-][^.…:–-]*?)?\s*(?:\.{2,3}|…|:|–|-|\bto\b|\bbis\b)\s*${NUMBER}\s*([^\d\s:,;][^\s:,;]*)?`,
  'i',
);

/** Names a range written as one text, with how the file writes it. */
function rangeAsText(context: Context, node: Node, place: string): boolean {
  const typed = node.kind === 'leaf' ? RANGE.exec(node.text) : null;
  if (!typed) return false;
  const [, from, unit, to, lastUnit] = typed;
  const end = (number: string, of: string | undefined) => (of ? `${number} ${of.trim()}` : number);
  const low = end(from!, unit ?? lastUnit);
  const high = end(to!, lastUnit ?? unit);
  fault(
    context,
    node,
    place,
    `is a range in one text; write { from: ${low}, to: ${high}, steps: 5 }, or a list of values [ ${low}, ${high} ]`,
  );
  return true;
}

/** A level listed twice, in whatever unit, would compute and count its points twice. */
function repeatedLevel(
  context: Context,
  items: readonly Node[],
  place: string,
  levels: readonly (number | string)[],
): void {
  const seen = new Map<number | string, number>();
  levels.forEach((level, i) => {
    const key = typeof level === 'number' ? Number(level.toPrecision(12)) : level;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, i);
    else if (levels.length === items.length)
      fault(context, items[i], `${place}[${i}]`, `is the same value as entry ${first + 1}; list it once`);
  });
}

function readSpan(context: Context, node: Node, place: string, reader: FactorReader): Factor | undefined {
  const block = asBlock(context, node, place);
  checkKeys(context, block, place, ['from', 'to', 'steps', 'scale']);
  if (reader.names) {
    fault(context, node, place, `must be a list of names: ${reader.names.join(', ')}`);
    return undefined;
  }
  const [from, to] = (['from', 'to'] as const).map((name) => {
    const child = childOf(block, name);
    if (!child) fault(context, node, join(place, name), 'must be given');
    return child && readEnd(context, child, join(place, name), reader);
  });
  const steps = readNumber(
    { ...context, provenance: {} },
    childOf(block, 'steps'),
    join(place, 'steps'),
    STEPS,
  );
  const scale =
    readChoice(context, childOf(block, 'scale'), join(place, 'scale'), ['linear', 'log']) ?? 'linear';
  if (!from || !to) return undefined;
  if (from.as !== to.as) fault(context, node, place, 'must have both ends in the same kind of unit');
  if (!(from.value < to.value)) fault(context, node, place, 'must run from low to high');
  if (scale === 'log' && !(from.value > 0)) fault(context, node, place, 'must start above 0 on a log scale');
  return {
    kind: 'number',
    path: reader.path,
    from: from.value,
    to: to.value,
    ...(steps === undefined ? {} : { steps }),
    scale,
    integer: reader.integer,
    ...(from.as ? { as: from.as } : {}),
    shownIn: from.shownIn,
  };
}

function readEnd(context: Context, node: Node, place: string, reader: FactorReader): FactorEnd | undefined {
  const text = readText(context, node, place, 200);
  if (text === undefined) return undefined;
  const end = reader.end(text);
  if (!isProblem(end)) return end;
  fault(context, node, place, end.problem);
  return undefined;
}
