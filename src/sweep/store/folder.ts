import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Makes a folder and those above it, one by one: all at once, a disk that may not be written is reported as a folder that
 * does not exist.
 *
 * @throws the error of the file system
 */
export function makeFolder(path: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) return;
  const above = dirname(path);
  if (above !== path) makeFolder(above);
  try {
    mkdirSync(path);
  } catch (error) {
    const another = statSync(path, { throwIfNoEntry: false })?.isDirectory();
    if (!another) throw error;
  }
}
