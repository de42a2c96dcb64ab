import { InputError } from '../scenario/errors.ts';
import { bytesOfFile } from '../scenario/load.ts';
import { type Reading, readMeasurement } from '../scenario/measurement/read-measurement.ts';
import type { ReadOptions } from '../scenario/measurement/read-options.ts';

/** Largest measurement read [bytes]. */
const LARGEST_FILE = 64e6;

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
  try {
    return bytesOfFile(path, LARGEST_FILE);
  } catch (error) {
    throw new InputError([{ place: path, message: `cannot be read: ${(error as Error).message}` }]);
  }
}
