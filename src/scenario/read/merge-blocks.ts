import { type Block, blockOf, childOf, type Node, textOf } from './node.ts';

/** Keys of which one, given anew, makes the older others meaningless. */
const RIVALS: readonly (readonly [given: string, drops: string])[] = [
  ['vanes', 'openArea'],
  ['thickness', 'openArea'],
  ['altitude', 'pressure'],
  ['pressure', 'altitude'],
];
/** Keys under which a name alone is short for `{ from: name }`. */
const ENTRIES = ['machine', 'material', 'rotor'];
/** Maps whose keys are names of the user's choice and mean nothing to the program. */
const NAMES = ['wheels', 'rotors', 'grades', 'job'];
/** Ways to state one curve: a block that names one of them states it whole. */
const WHOLES = ['percentiles', 'file', 'points', 'value'];

/**
 * `over` laid over `base`, key by key at any depth. A block that chooses another law, or states a curve or a value with
 * its evidence, replaces the older block whole.
 *
 * @param at key under which both stand, where that is known
 */
export function merge(base: Node, over: Node, at = ''): Node {
  const named = NAMES.includes(at);
  if (base.kind !== 'block' || over.kind !== 'block' || (!named && replacesWhole(base, over))) return over;
  const entries = new Map(base.entries);
  for (const [given, drops] of named ? [] : RIVALS) {
    if (over.entries.has(given) && !over.entries.has(drops)) entries.delete(drops);
  }
  for (const [key, node] of over.entries) {
    const older = entries.get(key);
    entries.set(key, older ? (named ? merge(older, node) : merge(spelt(key, older), node, key)) : node);
  }
  return blockOf(entries, over);
}

/** A name alone, spelt out as what it is short for, so that keys can be laid over it. */
function spelt(key: string, node: Node): Node {
  return node.kind === 'leaf' && ENTRIES.includes(key) ? blockOf([['from', node]], node) : node;
}

function replacesWhole(base: Block, over: Block): boolean {
  if (WHOLES.some((key) => over.entries.has(key) || (base.entries.has(key) && over.entries.has('law'))))
    return true;
  if (childOf(base, 'value')) return true;
  const law = textOf(over, 'law');
  return law !== undefined && law !== textOf(base, 'law');
}

/** A block without some of its keys. */
export function without(block: Block, ...keys: string[]): Block {
  return blockOf(
    [...block.entries].filter(([key]) => !keys.includes(key)),
    block,
  );
}

/** A block with one key set. */
export function withEntry(block: Block, key: string, node: Node): Block {
  return blockOf([...block.entries, [key, node]], block);
}
