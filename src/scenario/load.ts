import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { InputError } from './errors.ts';
import { ownPackage, packagePath } from './package-folder.ts';
import { parseScenario } from './parse.ts';
import { COMMAND_LINE, type Files } from './read/files.ts';
import type { Scenario } from './scenario.ts';

/** Largest file read [bytes]; what is in it is limited again when it is parsed. */
const LARGEST = 4_000_000;

/**
 * Reads a scenario file from disk, with the catalogue of the package and the files it names.
 *
 * @param path of the YAML file
 * @param options `set`: `path=value` texts laid over the file; files they name are relative to the current folder;
 *   `uncalibrated`: leaves the file's calibration out, as a fit does
 * @throws InputError with every fault at once
 */
export async function loadScenario(
  path: string,
  options: { set?: readonly string[]; uncalibrated?: boolean } = {},
): Promise<Scenario> {
  let text: string;
  try {
    text = readRegularFile(path);
  } catch (error) {
    throw new InputError([{ place: path, message: `cannot be read: ${(error as Error).message}` }]);
  }
  return parseScenario(text, { ...filesBeside(path), name: basename(path), ...options });
}

/**
 * Files named by a scenario at `path`, each relative to the file that names it, those of the command line relative to the
 * current folder; and the package's catalogue.
 */
export function filesBeside(path: string): Files {
  const places = new Map<string, string>();
  const remembered = (name: string, place: string): string => {
    places.set(name, place);
    return place;
  };
  const placeOf = (name: string, from: string | undefined): string => {
    if (from === COMMAND_LINE) return remembered(name, resolve(name));
    const base = from === undefined ? resolve(path) : (places.get(from) ?? resolve(path));
    return remembered(name, resolve(dirname(base), name));
  };
  return {
    readFile: (name, from) => readRegularFile(placeOf(name, from)),
    readBytes: (name, from) => bytesOfFile(placeOf(name, from), LARGEST),
    ...packageCatalogue(),
  };
}

/** The catalogue that comes with the package, and its version. */
export function packageCatalogue(): Pick<Files, 'catalogue' | 'catalogueNames' | 'version'> {
  const folder = packagePath('scenarios/catalogue');
  return {
    version: ownPackage().version,
    catalogue: (entry) => {
      const file = resolve(folder, `${entry}.yaml`);
      return /^(machines|materials)\/[\w-]+$/.test(entry) && existsSync(file)
        ? readFileSync(file, 'utf8')
        : undefined;
    },
    catalogueNames: (kind) =>
      readdirSync(resolve(folder, kind))
        .filter((name) => name.endsWith('.yaml'))
        .map((name) => name.slice(0, -'.yaml'.length)),
  };
}

/** Path of a demo case that comes with the package, e.g. `erythritol`. */
export function demoCase(name: string): string {
  return packagePath(`scenarios/${name}.yaml`);
}

/** Text of a scenario's file. */
function readRegularFile(path: string): string {
  return Buffer.from(bytesOfFile(path, LARGEST)).toString('utf8');
}

/**
 * Content of a file; anything that is none (folder, pipe, device) or too large is refused before it is opened.
 *
 * @param largest most bytes
 * @throws Error in words, which do not name the file
 */
export function bytesOfFile(path: string, largest: number): Uint8Array {
  const state = statSync(path, { throwIfNoEntry: false });
  if (!state) throw new Error('there is no such file');
  if (!state.isFile()) throw new Error(state.isDirectory() ? 'it is a folder' : 'it is no regular file');
  if (state.size > largest) throw new Error(`it is larger than ${largest / 1e6} MB`);
  return readFileSync(path);
}
