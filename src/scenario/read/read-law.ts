import type { LawChoice, LawHeader, Parameter, Table, TableShape } from '../../model/parameters.ts';
import { parseValue } from '../units/parse-quantity.ts';
import { isProblem } from '../units/unit-problem.ts';
import { namesOf, readNumbers } from './block.ts';
import { likelySlip, meantValue, questionOf } from './likely-slip.ts';
import { type Block, blockOf, childOf, type Node } from './node.ts';
import { outOfRange } from './out-of-range.ts';
import {
  asBlock,
  type Context,
  checkKeys,
  fault,
  join,
  missing,
  question,
  readChoice,
} from './reading-context.ts';

/** A registry of laws: everything the reading of a law needs follows from its entries. */
export type Laws = Readonly<Record<string, LawHeader>>;

const MOST_ROWS = 1000;
const FAILED: LawChoice = { law: '' };

/**
 * A chosen law with its parameters: `impact`, or `{ law: impact, friability: … }`.
 *
 * @param registry laws of this kind
 * @param preset law taken where the file names none
 */
export function readLaw(
  context: Context,
  node: Node | undefined,
  path: string,
  registry: Laws,
  preset?: string,
): LawChoice {
  const block = node?.kind === 'leaf' ? blockOf([['law', node]], node) : asBlock(context, node, path);
  const named = childOf(block, 'law');
  if (!named && preset === undefined) {
    missing(context, node, path, `must name its law: ${Object.keys(registry).join(', ')}`);
    return FAILED;
  }
  const name = named ? readChoice(context, named, join(path, 'law'), Object.keys(registry)) : preset;
  const law = name === undefined ? undefined : registry[name];
  if (!law) return FAILED;
  checkKeys(context, block, path, ['law', ...namesOf(law.parameters), ...(law.table ? ['points'] : [])]);
  const numbers = readNumbers(context, block, path, law.parameters);
  if (!law.table) return { law: law.name, ...numbers };
  const points = readPoints(context, childOf(block, 'points'), join(path, 'points'), law.table);
  return points ? { law: law.name, ...numbers, points } : FAILED;
}

/** Rows of a user's table: `[[10 um, 5 %], …]` or `{ 10 um: 5 %, … }`, ascending in the first column. */
export function readPoints(
  context: Context,
  node: Node | undefined,
  path: string,
  shape: Pick<TableShape, 'columns'>,
): Table | undefined {
  const [first, second] = shape.columns;
  const wanted = `pairs of ${first.meaning} and ${second.meaning}, e.g. [[1 ${first.shownIn}, …], …]`;
  if (!node || node.kind === 'leaf') {
    fault(context, node, path, `must be ${wanted}`);
    return undefined;
  }
  const pairs =
    node.kind === 'list'
      ? node.items.map(pairOf)
      : [...node.entries].map(([key, value]) => keyed(node, key, value));
  if (pairs.length < 2 || pairs.length > MOST_ROWS) {
    fault(context, node, path, `must have 2 to ${MOST_ROWS} rows, has ${pairs.length}`);
    return undefined;
  }
  const rows: (readonly [number, number])[] = [];
  for (let i = 0; i < pairs.length; i++) {
    const place = `${path}[${i}]`;
    const pair = pairs[i];
    if (!pair) {
      fault(context, node, place, `must be ${wanted}`);
      continue;
    }
    const x = readCell(context, pair[0], place, first);
    const y = readCell(context, pair[1], place, second);
    if (x === undefined || y === undefined) continue;
    rows.push([x, y]);
  }
  if (rows.length < pairs.length) return undefined;
  const ascending = rows[0]![0] > rows[1]![0] ? [...rows].reverse() : rows;
  const stuck = ascending.findIndex(([x], i) => i > 0 && x <= ascending[i - 1]![0]);
  if (stuck < 0) return ascending;
  const rising = ascending === rows;
  const row = rising ? stuck : rows.length - stuck;
  const message = `must be ${rising ? 'larger' : 'smaller'} in ${first.meaning} than the row before`;
  fault(context, node, `${path}[${row}]`, message);
  return undefined;
}

type Pair = readonly [Node, Node];

function pairOf(item: Node): Pair | undefined {
  if (item.kind === 'list' && item.items.length === 2) return [item.items[0]!, item.items[1]!];
  if (item.kind === 'block' && item.entries.size === 1) {
    const [[key, value]] = [...item.entries] as [[string, Node]];
    return keyed(item, key, value);
  }
  return undefined;
}

function keyed(block: Block, key: string, value: Node): Pair {
  return [
    { kind: 'leaf', text: key, origin: block.origin, ...(value.line ? { line: value.line } : {}) },
    value,
  ];
}

/** One number of a table. */
function readCell(context: Context, node: Node, path: string, parameter: Parameter): number | undefined {
  if (node.kind !== 'leaf') {
    fault(context, node, path, 'must be a number with its unit');
    return undefined;
  }
  const value = parseValue(node.text, parameter);
  if (isProblem(value)) return rejectCell(context, node, path, parameter, value.problem);
  const wrong = outOfRange(value.value, parameter, value.shownIn);
  if (wrong !== undefined) {
    const slip = likelySlip(node.text, value.value, value.shownIn, parameter);
    return rejectCell(context, node, path, parameter, wrong + meantValue(slip));
  }
  question(context, node, path, questionOf(node.text, value.value, value.shownIn, parameter));
  return value.value;
}

function rejectCell(
  context: Context,
  node: Node,
  path: string,
  { meaning }: Parameter,
  message: string,
): undefined {
  fault(context, node, path, `${meaning} ${message}`);
  return undefined;
}
