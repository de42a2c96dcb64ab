import { InputError } from '../../scenario/errors.ts';

/** Where a trial log and the size files it names lie. */
export interface LogFiles {
  /** Place of a file that a log names; the same file has the same place, and messages name it. */
  placeOf(name: string, log: string): string;
  /**
   * Content of the file at a place.
   *
   * @throws Error in words, which do not name the file
   */
  readBytes(place: string): Uint8Array;
}

/** Content of a file, or an InputError that names it. */
export function bytesAt(place: string, files: Pick<LogFiles, 'readBytes'>): Uint8Array {
  try {
    return files.readBytes(place);
  } catch (error) {
    throw new InputError([{ place, message: `cannot be read: ${(error as Error).message}` }]);
  }
}
