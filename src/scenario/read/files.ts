import type { Fault } from '../errors.ts';
import { childOf, type Node, type Origin } from './node.ts';
import { readYaml } from './yaml.ts';

/** Stands for the file that names another where a command line does: the current folder. */
export const COMMAND_LINE = '--set';

/** Who names a file, as `Files` takes it: another file, the command line, or (undefined) the scenario itself. */
export function namedBy(origin: Origin | undefined): string | undefined {
  if (origin?.kind === 'option') return COMMAND_LINE;
  return origin?.kind === 'file' ? origin.name : undefined;
}

/** Where a scenario finds the entries and files it names. Reading is given from outside, so that a page can do without disk. */
export interface Files {
  /**
   * Text of a file named relative to `from`, the file that names it (absent: the scenario itself; `COMMAND_LINE`: the
   * current folder); throws with the reason.
   */
  readonly readFile: (path: string, from?: string) => string;
  /** Content of a measured file, found like `readFile`'s; where it is not given the text counts as UTF-8. */
  readonly readBytes?: (path: string, from?: string) => Uint8Array;
  /** Text of a catalogue entry, `machines/pilot-300`; undefined where there is none. */
  readonly catalogue: (entry: string) => string | undefined;
  /** Version of the program that reads, to compare with that of a calibration. */
  readonly version?: string;
  /** Names in the catalogue of one kind. */
  readonly catalogueNames: (kind: 'machines' | 'materials') => readonly string[];
}

/** An entry that `from:` names: its nodes and the faults of its notation. */
export interface Entry {
  readonly key: string;
  readonly node?: Node;
  readonly faults: readonly Fault[];
}

const SHELVES: Readonly<Record<string, 'machines' | 'materials'>> = {
  machine: 'machines',
  material: 'materials',
};

/**
 * Loads what a `from:` names: a file where it looks like one, else a catalogue entry of its kind.
 *
 * @param kind `machine`, `material`, `wheel`, …: also the key looked for when the file is a whole scenario
 * @param origin file that names it
 */
export function loadEntry(
  name: string,
  kind: string,
  origin: Origin,
  files: Files,
): Entry | { readonly message: string; readonly known: readonly string[] } {
  if (/[/\\]|\.(ya?ml|json)$/i.test(name)) return loadFile(name, kind, origin, files);
  const shelf = SHELVES[kind];
  const known = shelf ? files.catalogueNames(shelf) : [];
  const text = shelf && known.includes(name) ? files.catalogue(`${shelf}/${name}`) : undefined;
  if (text === undefined) {
    const where = shelf ? `an entry of the catalogue of ${shelf}` : 'an entry here';
    return { message: `must be ${where} or a file ending in .yaml, is "${name.slice(0, 60)}"`, known };
  }
  const key = `catalogue ${name}`;
  return { key, ...readYaml(text, { name: key, kind: 'catalogue' }) };
}

function loadFile(
  name: string,
  kind: string,
  origin: Origin,
  files: Files,
): Entry | { readonly message: string; readonly known: readonly string[] } {
  let text: string;
  try {
    text = files.readFile(name, namedBy(origin));
  } catch (error) {
    return { message: `${name} cannot be read: ${(error as Error).message}`, known: [] };
  }
  const { node, faults } = readYaml(text, { name, kind: 'file' });
  const part = node && kind !== 'scenario' ? (childOf(node, kind) ?? node) : node;
  if (part && part.kind !== 'block') {
    return {
      message: `${name} must be a block of keys, is ${part.kind === 'list' ? 'a list' : 'one value'}`,
      known: [],
    };
  }
  return part ? { key: name, node: part, faults } : { key: name, faults };
}
