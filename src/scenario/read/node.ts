/** Where a piece of input stands: which text, and what its values count as. */
export interface Origin {
  /** File or option as faults name it; empty for the scenario itself. */
  readonly name: string;
  readonly kind: 'scenario' | 'file' | 'catalogue' | 'option' | 'calibration';
}

interface Placed {
  readonly line?: number;
  readonly origin: Origin;
}

/** A single value, as typed. */
export interface Leaf extends Placed {
  readonly kind: 'leaf';
  readonly text: string;
}

/** Keys and what they hold. A Map, so that no key can reach an object's prototype. */
export interface Block extends Placed {
  readonly kind: 'block';
  readonly entries: ReadonlyMap<string, Node>;
}

interface List extends Placed {
  readonly kind: 'list';
  readonly items: readonly Node[];
}

/** The file as read: text, not yet values. */
export type Node = Leaf | Block | List;

/** Line and origin of a node, for another node made from it. */
function placeOf(node: Placed): Placed {
  return node.line === undefined ? { origin: node.origin } : { line: node.line, origin: node.origin };
}

/** A block from entries. */
export function blockOf(entries: Iterable<readonly [string, Node]>, place: Placed): Block {
  return { kind: 'block', entries: new Map(entries), ...placeOf(place) };
}

/** What a block holds under a key. */
export function childOf(node: Node | undefined, key: string): Node | undefined {
  return node?.kind === 'block' ? node.entries.get(key) : undefined;
}

/** Text of a leaf under a key; undefined where there is no leaf. */
export function textOf(node: Node | undefined, key: string): string | undefined {
  const child = childOf(node, key);
  return child?.kind === 'leaf' ? child.text : undefined;
}
