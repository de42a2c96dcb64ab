import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { InputError } from '../scenario/errors.ts';

/**
 * Writes a text or bytes beside their place and renames it there, so that a failed write leaves the old file as it was.
 *
 * @param path where to
 * @param content what
 * @param force whether a file that is there already may be replaced
 * @throws InputError where the file exists and `force` is not given, or where it cannot be written
 */
export function writeWhole(path: string, content: string | Uint8Array, force = true): void {
  if (!force && existsSync(path)) {
    throw new InputError([{ place: path, message: 'exists already; --force replaces it' }]);
  }
  const bytes = typeof content === 'string' ? Buffer.from(content) : content;
  const beside = `${path}.${process.pid}.part`;
  try {
    const file = openSync(beside, 'w');
    try {
      for (let done = 0; done < bytes.length; ) done += writeSync(file, bytes, done);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    throw new InputError([{ place: path, message: `cannot be written: ${(error as Error).message}` }]);
  }
}
