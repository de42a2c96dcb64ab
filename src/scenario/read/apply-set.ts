import type { Fault } from '../errors.ts';
import { COMMAND_LINE } from './files.ts';
import { type Block, blockOf, childOf, type Node, type Origin, textOf } from './node.ts';
import { readYaml } from './yaml.ts';

const OPTION: Origin = { name: COMMAND_LINE, kind: 'option' };
const SETTINGS = ['rotorSpeed', 'wheelSpeed', 'wheel', 'feedRate'];
/** Keys that hold a law: a name alone there is short for `{ law: name }`. */
const LAW_KEYS = ['selection', 'fragments', 'efficiency'];
const MOST_KEYS = 12;

/**
 * Lays `path=value` texts over a scenario before it is checked, so that they get the same faults as the file. A bare name is
 * a setting; `wheel.…` is the chosen wheel.
 *
 * @param sets e.g. `settings.wheelSpeed=2400 rpm`
 */
export function override(root: Block, sets: readonly string[]): { root: Block; faults: readonly Fault[] } {
  const faults: Fault[] = [];
  let result = root;
  for (const set of sets) {
    const equals = set.indexOf('=');
    const path = set.slice(0, Math.max(0, equals)).trim().normalize('NFC');
    const keys = keysOf(result, path);
    if (path.startsWith('wheel.') && keys[2] === '') {
      const message = 'must name the wheel, as the file chooses none: machine.wheels.NAME.…';
      faults.push({ place: `--set ${path.slice(0, 60)}`, message });
      continue;
    }
    if (keys.length > MOST_KEYS || keys.some((key) => key === '')) {
      const example = 'settings.wheelSpeed="2400 rpm"';
      faults.push({
        place: '--set',
        message: `must be path=value, e.g. ${example}, is "${set.slice(0, 60)}"`,
      });
      continue;
    }
    const read = readYaml(set.slice(equals + 1), OPTION);
    faults.push(
      ...read.faults.map(({ place, message }) => ({
        place: place === '--set' ? `--set ${keys.join('.')}` : place,
        message,
      })),
    );
    if (read.node) result = setAt(result, keys, withoutLines(read.node), '') as Block;
  }
  return { root: result, faults };
}

/** Lays the values of a calibration over a scenario: path → value, or value with its evidence. */
export function overrideValues(root: Block, values: Block): Block {
  let result = root;
  for (const [path, node] of values.entries)
    result = setAt(result, keysOf(result, path), withoutLines(node), '') as Block;
  return result;
}

function keysOf(root: Block, path: string): string[] {
  const keys = path.split('.').map((key) => key.trim());
  if (keys.length === 1 && SETTINGS.includes(path)) return ['settings', path];
  if (keys.length > 1 && keys[0] === 'wheel') {
    const chosen = textOf(childOf(root, 'settings'), 'wheel')?.trim() ?? '';
    return ['machine', 'wheels', chosen, ...keys.slice(1)];
  }
  return keys;
}

/** The tree with one node replaced; blocks on the way are made, and a name on the way is spelt out as what it is short for. */
function setAt(node: Node | undefined, keys: readonly string[], value: Node, at: string): Node {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  if (node?.kind === 'list' && /^\d{1,3}$/.test(key) && Number(key) <= node.items.length) {
    const items = [...node.items];
    items[Number(key)] = setAt(items[Number(key)], rest, value, key);
    return { ...node, items };
  }
  const short: [string, Node][] =
    node?.kind === 'leaf' ? [[LAW_KEYS.includes(at) ? 'law' : 'from', node]] : [];
  const block = node?.kind === 'block' ? node : blockOf(short, node ?? value);
  return blockOf([...block.entries, [key, setAt(childOf(block, key), rest, value, key)]], block);
}

function withoutLines(node: Node): Node {
  const { line: _line, ...rest } = node;
  if (rest.kind === 'list') return { ...rest, items: rest.items.map(withoutLines) };
  if (rest.kind === 'leaf') return rest;
  return { ...rest, entries: new Map([...rest.entries].map(([key, child]) => [key, withoutLines(child)])) };
}
