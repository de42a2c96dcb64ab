import type { Stats } from 'node:fs';
import { InputError } from '../../scenario/errors.ts';

/** Write permission of the owner. */
const WRITABLE = 0o200;

/**
 * A file its owner may not write is not replaced either, though a rename could: somebody protected it.
 *
 * @throws InputError naming the file
 */
export function refuseProtected(path: string, { mode }: Stats): void {
  if ((mode & WRITABLE) !== 0) return;
  throw new InputError([{ place: path, message: 'is write-protected; not changed. Name another file' }]);
}
