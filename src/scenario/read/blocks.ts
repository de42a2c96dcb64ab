import type { BlockValue, BlockValues } from '../scenario.ts';
import { namesOf, readNumbers } from './block.ts';
import type { BlockShape } from './block-shape.ts';
import { blockOf, childOf, type Node } from './node.ts';
import { PLANT, TIME } from './plant-and-time-blocks.ts';
import { readLaw } from './read-law.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice, readText } from './reading-context.ts';

const MOST_ITEMS = 200;

/** Optional blocks of a scenario, one line each. */
export const BLOCKS: Readonly<Record<string, BlockShape>> = { plant: PLANT, time: TIME };

/** Reads one optional block; an absent one gives undefined, an absent inner one its presets where it has any. */
export function readBlock(
  context: Context,
  node: Node | undefined,
  path: string,
  shape: BlockShape,
): BlockValues | undefined {
  const block = asBlock(context, node, path);
  if (!block) return undefined;
  const { parameters = [], choices = {}, texts = [], laws = {}, blocks = {}, lists = {} } = shape;
  const keys = [
    ...namesOf(parameters),
    ...Object.keys(choices),
    ...texts,
    ...Object.keys(laws),
    ...Object.keys(blocks),
    ...Object.keys(lists),
  ];
  checkKeys(context, block, path, keys);
  const values: Record<string, BlockValue> = { ...readNumbers(context, block, path, parameters) };
  const keep = (key: string, value: BlockValue | undefined) => {
    if (value !== undefined) values[key] = value;
  };
  for (const [key, words] of Object.entries(choices)) {
    keep(key, readChoice(context, childOf(block, key), join(path, key), words));
  }
  for (const key of texts) keep(key, readText(context, childOf(block, key), join(path, key)));
  for (const [key, { registry, otherwise }] of Object.entries(laws)) {
    const inner = childOf(block, key);
    if (inner || otherwise)
      keep(key, readLaw(context, inner, join(path, key), registry, otherwise) as BlockValues);
  }
  for (const [key, inner] of Object.entries(blocks)) {
    keep(key, readBlock(context, childOf(block, key) ?? blockOf([], block), join(path, key), inner));
  }
  for (const [key, inner] of Object.entries(lists)) {
    keep(key, readList(context, childOf(block, key), join(path, key), inner));
  }
  return values;
}

function readList(
  context: Context,
  node: Node | undefined,
  path: string,
  shape: BlockShape,
): BlockValue | undefined {
  if (!node) return undefined;
  if (node.kind !== 'list' || node.items.length > MOST_ITEMS) {
    fault(context, node, path, `must be a list of at most ${MOST_ITEMS} blocks: ${shape.summary}`);
    return undefined;
  }
  return node.items.flatMap((item, i) => readBlock(context, item, `${path}.${i}`, shape) ?? []);
}
