import { closeSync, openSync, readSync } from 'node:fs';

/** Whether a file is empty or begins with these characters or bytes: how one of ours is told from somebody's. */
export function emptyOrBegins(path: string, start: string | Uint8Array): boolean {
  const wanted = typeof start === 'string' ? Buffer.from(start) : start;
  const found = Buffer.alloc(wanted.length);
  const file = openSync(path, 'r');
  try {
    return readSync(file, found, 0, found.length, 0) === 0 || found.equals(wanted);
  } finally {
    closeSync(file);
  }
}
