import type { Parameter, Warning } from '../../model/parameters.ts';
import type { Fault } from '../errors.ts';
import type { Provenance } from '../scenario.ts';
import { suggestion } from './did-you-mean.ts';
import type { Files } from './files.ts';
import type { LaidOver } from './inherited-faults.ts';
import type { Block, Node } from './node.ts';

/** What one reading gathers besides the values: faults, warnings, evidence, uncertain ranges. */
export interface Context {
  readonly faults: Fault[];
  readonly warnings: Warning[];
  readonly provenance: Record<string, Provenance>;
  readonly uncertain: Record<string, readonly [number, number]>;
  /** Parameter of every number read, by its path: what a factor of that path must obey. */
  readonly parameters: Map<string, Parameter>;
  /** Values questioned already, so that a part laid over another does not repeat it. */
  readonly questioned: WeakSet<Node>;
  /** Paths whose entry could not be loaded: what is missing below them is no fault of its own. */
  readonly incomplete: string[];
  /** Parts laid over others of the file, by their paths: what is wrong there is told there. */
  readonly laidOver: Map<string, LaidOver>;
  readonly readFile: (path: string, from?: string) => string;
  /** Content of a measured file. */
  readonly readBytes: (path: string, from?: string) => Uint8Array;
}

/** A context with nothing gathered yet. */
export function emptyContext({ readFile, readBytes }: Pick<Files, 'readFile' | 'readBytes'>): Context {
  return {
    faults: [],
    warnings: [],
    provenance: {},
    uncertain: {},
    parameters: new Map(),
    questioned: new WeakSet(),
    incomplete: [],
    laidOver: new Map(),
    readFile,
    readBytes: readBytes ?? ((path, from) => new TextEncoder().encode(readFile(path, from))),
  };
}

/** Notes a fault at a node, naming the file where it is not the scenario itself. */
export function fault(context: Context, node: Node | undefined, path: string, message: string): void {
  const name = node?.origin.name ?? '';
  const place = name === '' ? path : `${name}: ${path}`;
  context.faults.push(node?.line === undefined ? { place, message } : { place, line: node.line, message });
}

/** Notes that an allowed value is odd, once for every place it is taken from; nothing where nothing is odd. */
export function question(
  context: Context,
  node: Node | undefined,
  path: string,
  words: string | undefined,
): void {
  if (words === undefined || (node && context.questioned.has(node))) return;
  if (node) context.questioned.add(node);
  const line = node?.line === undefined ? '' : ` (line ${node.line})`;
  context.warnings.push({ code: 'unusual-input', message: `${path}${line}: ${words}` });
}

/** Notes that something is missing, unless it is missing because an entry could not be loaded. */
export function missing(context: Context, node: Node | undefined, path: string, message: string): void {
  if (!isIncomplete(context, path)) fault(context, node, path, message);
}

/** Whether a path stands below an entry that could not be loaded, or is laid over one that does. */
function isIncomplete(context: Context, path: string): boolean {
  const isBelow = (above: string) => above === '' || path === above || path.startsWith(`${above}.`);
  if (context.incomplete.some(isBelow)) return true;
  return [...context.laidOver].some(
    ([part, { base }]) => isBelow(part) && isIncomplete(context, base + path.slice(part.length)),
  );
}

/** Path of a key inside a block. */
export function join(path: string, key: string): string {
  return path === '' ? key : `${path}.${key}`;
}

/** A node that must be a block; a fault, and undefined, where it is something else. */
export function asBlock(context: Context, node: Node | undefined, path: string): Block | undefined {
  if (node === undefined || node.kind === 'block') return node;
  const found = node.kind === 'list' ? 'a list' : node.text === '' ? 'empty' : `"${node.text.slice(0, 40)}"`;
  fault(context, node, path, `must be a block of keys (key: value), is ${found}`);
  return undefined;
}

/** Faults for keys that a block does not know, each with the nearest one that it does. */
export function checkKeys(
  context: Context,
  block: Block | undefined,
  path: string,
  known: readonly string[],
): void {
  for (const [key, node] of block?.entries ?? []) {
    if (known.includes(key)) continue;
    const place = join(path, key.trim() === '' ? '(empty key)' : key.slice(0, 60));
    if (/^\d/.test(key) && node.kind === 'leaf' && node.text === '') {
      fault(context, node, place, 'was cut off by a decimal comma; use a decimal point, e.g. 1.5 mm');
    } else fault(context, node, place, `unknown key${suggestion(key, known)}`);
  }
}

/** A line of text under a key: the text, or a fault where it is a block, empty or too long. */
export function readText(
  context: Context,
  node: Node | undefined,
  path: string,
  longest = 2000,
): string | undefined {
  if (node === undefined) return undefined;
  if (node.kind !== 'leaf') fault(context, node, path, 'must be text');
  else if (node.text.trim() === '') fault(context, node, path, 'must not be empty');
  else if (node.text.length > longest) fault(context, node, path, `must have at most ${longest} characters`);
  else return node.text;
  return undefined;
}

/** One of some words; a fault with the nearest where it is none of them. */
export function readChoice<T extends string>(
  context: Context,
  node: Node | undefined,
  path: string,
  choices: readonly T[],
): T | undefined {
  const text = readText(context, node, path);
  if (text === undefined) return undefined;
  const choice = choices.find((name) => name === text.trim());
  if (choice === undefined) {
    fault(
      context,
      node,
      path,
      `must be one of ${choices.join(', ')}, is "${text.slice(0, 40)}"${near(text, choices)}`,
    );
  }
  return choice;
}

function near(text: string, choices: readonly string[]): string {
  const words = suggestion(text, choices);
  return words.startsWith('; did') ? words : '';
}
