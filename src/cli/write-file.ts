import {
  chmodSync,
  closeSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { InputError } from '../scenario/errors.ts';
import { nameBeside } from '../sweep/store/atomic-write.ts';
import { storeFault } from '../sweep/store/fault.ts';
import { emptyOrBegins } from '../sweep/store/file-signature.ts';
import { refuseProtected } from '../sweep/store/protected.ts';

type Content = string | Uint8Array;

/**
 * Writes a text or bytes beside their place and renames it there, so that a failed write leaves the old file as it was. A file that
 * is there already is replaced only where it begins as the new one does: an older one of the same kind, never a scenario,
 * a log or a measured curve. What is no file, such as /dev/stdout, is written to as it stands.
 *
 * @param path where to
 * @param content what
 * @param replaces `never` leaves any file that is there, `always` replaces whatever it is
 * @throws InputError where the file is not changed, or where it cannot be written
 */
export function writeWhole(
  path: string,
  content: Content,
  replaces: 'never' | 'older' | 'always' = 'older',
): void {
  try {
    const old = statSync(path, { throwIfNoEntry: false });
    if (old === undefined) writeBeside(path, undefined, content);
    else if (!old.isFile()) writeInto(path, old, content);
    else {
      refuseProtected(path, old);
      if (replaces !== 'always') refuseOther(path, content, replaces);
      writeBeside(realpathSync(path), old.mode, content);
    }
  } catch (error) {
    throw inWords(path, error);
  }
}

function writeInto(path: string, old: Stats, content: Content): void {
  if (old.isDirectory()) throw new InputError([{ place: path, message: 'is a folder; name a file in it' }]);
  writeFileSync(path, content);
}

/** Characters or bytes that tell what kind a file is: `<!doctype html>`, `# written by grindloop fit`. */
const KIND = 15;

function refuseOther(path: string, content: Content, replaces: 'never' | 'older'): void {
  if (replaces === 'never')
    throw new InputError([{ place: path, message: 'exists already; --force replaces it' }]);
  if (emptyOrBegins(path, content.slice(0, KIND))) return;
  const message = 'exists already and is something else; not changed. Name another file, or delete it first';
  throw new InputError([{ place: path, message }]);
}

function writeBeside(path: string, mode: number | undefined, content: Content): void {
  refuseWithoutFolder(path);
  const beside = nameBeside(path);
  try {
    const file = openSync(beside, 'w');
    try {
      writeFileSync(file, content);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    if (mode !== undefined) chmodSync(beside, mode);
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}

function refuseWithoutFolder(path: string): void {
  const folder = dirname(path);
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return;
  throw new InputError([{ place: path, message: `there is no folder ${folder}; make it first` }]);
}

function inWords(path: string, error: unknown): InputError {
  const fault = storeFault(path, error);
  if (fault instanceof InputError) return fault;
  return new InputError([{ place: path, message: `cannot be written: ${fault.message}` }]);
}
