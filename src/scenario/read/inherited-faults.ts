import type { Fault } from '../errors.ts';
import type { Node } from './node.ts';

/** Path of what a part is laid over, and what the part itself states. */
export interface LaidOver {
  readonly base: string;
  readonly states: Node;
}

/**
 * Faults without repeats and without those a part only takes over from what it is laid over: each is told once, where
 * it stands. A part that states the same wrong value itself is told of it.
 *
 * @param parts by their paths, e.g. `machine.rotors.dense`
 */
export function toldOnce(faults: readonly Fault[], parts: ReadonlyMap<string, LaidOver>): readonly Fault[] {
  const told = new Set(faults.map(({ place, message }) => `${place}\n${message}`));
  const first = new Map(faults.map((fault) => [JSON.stringify(fault), fault]));
  return [...first.values()].filter(({ place, message }) => {
    for (const [part, { base, states }] of parts) {
      const [file, rest] = within(place, part) ?? [];
      if (rest === undefined || statesValue(states, rest.split('.'))) continue;
      if (told.has(`${file}${base}.${rest}\n${message}`)) return false;
    }
    return true;
  });
}

/** A place as the file named before its path, if any, and its path below a part; nothing where it is not below. */
function within(place: string, part: string): readonly [file: string, rest: string] | undefined {
  const at = place.startsWith(`${part}.`) ? 0 : place.indexOf(`: ${part}.`) + 2;
  if (at === 1) return undefined;
  return [place.slice(0, at), place.slice(at + part.length + 1)];
}

/** Whether a value stands at a path itself; keys around it do not count. */
function statesValue(node: Node | undefined, path: readonly string[]): boolean {
  const [key, ...rest] = path;
  if (node?.kind !== 'block' || key === undefined) return node !== undefined && node.kind !== 'block';
  return statesValue(node.entries.get(key), rest);
}
