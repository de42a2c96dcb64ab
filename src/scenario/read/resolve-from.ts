import { suggestion } from './did-you-mean.ts';
import { type Files, loadEntry } from './files.ts';
import { merge, withEntry, without } from './merge-blocks.ts';
import { type Block, blockOf, childOf, type Node, textOf } from './node.ts';
import { MOST_WHEELS } from './read-wheel.ts';
import { type Context, fault, join } from './reading-context.ts';

/** How many `from:` may stand behind one another. */
const LONGEST_CHAIN = 12;

/** Follows the `from:` of the scenario itself, a whole scenario to start from. */
export function expandWhole(context: Context, root: Block, files: Files): Block {
  const whole = follow(context, root, '', 'scenario', files, []);
  return whole?.kind === 'block' ? whole : root;
}

/**
 * Follows every `from:` within a scenario: material, components, feed, machine, its rotor, other rotors and its
 * wheels. A name alone (`machine: pilot-300`) is short for `{ from: pilot-300 }`.
 *
 * @returns the tree with every entry laid out in full and no `from:` left
 */
export function expandParts(context: Context, whole: Block, files: Files): Block {
  const entries = new Map(whole.entries);
  const replace = (key: string, kind: string) => {
    const node = entries.get(key);
    const full = node && follow(context, node, key, kind, files, []);
    if (full) entries.set(key, full);
  };
  replace('material', 'material');
  replace('feed', 'feed');
  replace('machine', 'machine');
  const components = entries.get('components');
  if (components?.kind === 'list') {
    entries.set('components', {
      ...components,
      items: components.items.map((item, i) => component(context, item, i, files)),
    });
  }
  const machine = entries.get('machine');
  if (machine?.kind === 'block') placeMachine(context, entries, machine, files);
  return blockOf(entries, whole);
}

function component(context: Context, item: Node, index: number, files: Files): Node {
  if (item.kind !== 'block') return item;
  const entries = [...item.entries].map(([key, node]): [string, Node] => {
    const full =
      key === 'material' || key === 'feed'
        ? follow(context, node, `components.${index}.${key}`, key, files, [])
        : node;
    return [key, full ?? node];
  });
  return blockOf(entries, item);
}

/** Wheels may start from one another; the machine's usual air stands beneath the scenario's own. */
function placeMachine(context: Context, entries: Map<string, Node>, machine: Block, files: Files): void {
  const wheels = childOf(machine, 'wheels');
  const rotor = childOf(machine, 'rotor');
  let full = without(machine, 'air');
  const own = rotor && (follow(context, rotor, 'machine.rotor', 'rotor', files, []) ?? rotor);
  if (own) full = withEntry(full, 'rotor', own);
  const others = childOf(machine, 'rotors');
  if (own && others?.kind === 'block')
    full = withEntry(full, 'rotors', expandRotors(context, others, own, files));
  if (wheels?.kind === 'block') full = withEntry(full, 'wheels', expandWheels(context, wheels, files));
  entries.set('machine', full);
  const usual = childOf(machine, 'air');
  const air = entries.get('air');
  if (usual) entries.set('air', air ? merge(usual, air) : usual);
}

/** Other rotors are laid over the machine's own, or over what they name. */
function expandRotors(context: Context, rotors: Block, own: Node, files: Files): Block {
  const entries = [...rotors.entries].map(([name, node]): [string, Node] => {
    const starts = node.kind !== 'block' || childOf(node, 'from') !== undefined;
    const path = join('machine.rotors', name);
    const full = follow(context, node, path, 'rotor', files, []) ?? node;
    if (starts) return [name, full];
    context.laidOver.set(path, { base: 'machine.rotor', states: full });
    return [name, merge(own, full)];
  });
  return blockOf(entries, rotors);
}

function expandWheels(context: Context, wheels: Block, files: Files): Block {
  if (wheels.entries.size > MOST_WHEELS) return wheels; // refused when they are read, and not laid out before
  const entries = [...wheels.entries].map(([name, node]): [string, Node] => {
    return [name, followWheel(context, wheels, name, node, files)];
  });
  return blockOf(entries, wheels);
}

function followWheel(context: Context, wheels: Block, name: string, node: Node, files: Files): Node {
  const path = join('machine.wheels', name);
  const from = childOf(node, 'from');
  if (node.kind !== 'block' || from?.kind !== 'leaf') return node;
  const base = from.text.trim();
  const sibling = wheels.entries.get(base);
  if (!sibling) return follow(context, node, path, 'wheel', files, [], [...wheels.entries.keys()]) ?? node;
  const own = without(node, 'from');
  const ring = ringThrough(wheels, name);
  if (ring) {
    const first = [...wheels.entries.keys()].find((each) => ring.includes(each));
    if (name === first)
      fault(context, from, join(path, 'from'), `refers back to itself: ${[...ring, name].join(' → ')}`);
    context.incomplete.push(path);
    return own;
  }
  context.laidOver.set(path, { base: join('machine.wheels', base), states: own });
  return merge(followWheel(context, wheels, base, sibling, files), own);
}

/** Wheels each laid out from the next and the last from the first, which is the one named; undefined where there is no such ring. */
function ringThrough(wheels: Block, name: string): readonly string[] | undefined {
  const ring = [name];
  for (;;) {
    const base = textOf(wheels.entries.get(ring.at(-1)!), 'from')?.trim();
    if (base === name) return ring;
    if (base === undefined || !wheels.entries.has(base) || ring.includes(base)) return undefined;
    ring.push(base);
  }
}

/** One `from:` and all behind it; undefined after a fault. */
function follow(
  context: Context,
  node: Node,
  path: string,
  kind: string,
  files: Files,
  chain: readonly string[],
  siblings: readonly string[] = [],
): Node | undefined {
  const block = node.kind === 'leaf' && kind !== 'feed' && kind !== 'scenario' ? named(node) : node;
  const from = childOf(block, 'from');
  if (block.kind !== 'block' || !from) return node;
  const place = join(path, 'from');
  if (from.kind !== 'leaf' || from.text.trim() === '') {
    fault(context, from, place, 'must be the name of a catalogue entry or a file');
    return without(block, 'from');
  }
  const name = from.text.trim();
  if (chain.length >= LONGEST_CHAIN) {
    fault(context, from, place, `refers on through more than ${LONGEST_CHAIN} entries; shorten the chain`);
    return without(block, 'from');
  }
  const entry = loadEntry(name, kind, node.origin, files);
  if ('message' in entry) {
    const known = siblings.length > 0 ? siblings : entry.known;
    fault(context, from, place, `${entry.message}${known.length > 0 ? suggestion(name, known) : ''}`);
    context.incomplete.push(path);
    return without(block, 'from');
  }
  if (chain.includes(entry.key)) {
    fault(context, from, place, `refers back to itself: ${[...chain, entry.key].join(' → ')}`);
    return without(block, 'from');
  }
  context.faults.push(...entry.faults);
  if (!entry.node) {
    context.incomplete.push(path);
    return without(block, 'from');
  }
  const base = follow(context, entry.node, path, kind, files, [...chain, entry.key]);
  return base ? merge(base, without(block, 'from')) : without(block, 'from');
}

function named(leaf: Node): Block {
  return blockOf([['from', leaf]], leaf);
}
