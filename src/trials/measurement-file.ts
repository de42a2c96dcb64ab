import { bytesOfFile } from '../scenario/load.ts';
import { type Reading, readMeasurement } from '../scenario/measurement/read-measurement.ts';
import type { ReadOptions } from '../scenario/measurement/reading-questions.ts';
import { bytesAt } from './log/log-files.ts';

/** Largest measurement read [bytes]. */
const LARGEST_FILE = 64e6;

/**
 * Reads a measurement from disk.
 *
 * @throws InputError where the file cannot be opened, or with every open question
 */
export async function readMeasurementFile(path: string, options: ReadOptions = {}): Promise<Reading> {
  return readMeasurement(bytesAt(path, { readBytes: bytesOfMeasurement }), path, options);
}

/**
 * Content of a measurement's or a log's file on disk.
 *
 * @throws Error in words, which do not name the file
 */
export function bytesOfMeasurement(path: string): Uint8Array {
  return bytesOfFile(path, LARGEST_FILE);
}
