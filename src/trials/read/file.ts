import { readFile } from 'node:fs/promises';
import { InputError } from '../../scenario/errors.ts';
import type { ReadOptions } from './options.ts';
import { type Reading, readMeasurement } from './reading.ts';

const LARGEST_FILE = 64 * 1024 * 1024;

/**
 * Reads a measurement from disk.
 *
 * @throws InputError where the file cannot be opened, or with every open question
 */
export async function readMeasurementFile(path: string, options: ReadOptions = {}): Promise<Reading> {
  return readMeasurement(await bytesOf(path), path, options);
}

/** Content of a file, or an InputError that names it. */
export async function bytesOf(path: string): Promise<Uint8Array> {
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const code = (error as { code?: string }).code;
    const why =
      code === 'ENOENT' ? 'does not exist' : code === 'EISDIR' ? 'is a folder' : `cannot be read (${code})`;
    throw new InputError([{ place: path, message: why }]);
  }
  if (bytes.length > LARGEST_FILE) throw new InputError([{ place: path, message: 'is larger than 64 MB' }]);
  return bytes;
}
