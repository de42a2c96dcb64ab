import { InputError } from '../../scenario/errors.ts';

/** What a message of the database or the file system means for the person at the keyboard. */
const MEANINGS: readonly (readonly [RegExp, string])[] = [
  [
    /conflicting lock|could not set lock|being used by another process/i,
    'is in use by another process; not changed',
  ],
  [
    /ENOSPC|no space left|disk (is )?full|EFBIG|file too large|EDQUOT|not enough space/i,
    'cannot be written, the disk is full; what was stored before is intact; make room and run the same command again',
  ],
  [
    /EROFS|EACCES|EPERM|permission denied|read-only file system|operation not permitted/i,
    'cannot be written: no permission in that folder',
  ],
  [/ENOTDIR|not a directory/i, 'cannot be created: part of the path is a file'],
  [/EISDIR|is a directory/i, 'is a folder; name a file'],
  [/ELOOP|too many (levels of )?symbolic links/i, 'is a link that leads back to itself'],
  [/ENAMETOOLONG|file name too long/i, 'has too long a name'],
  [/not a valid duckdb/i, 'is not a store of a sweep: another program wrote it'],
  [
    /storage version|newer version of duckdb|older version of duckdb/i,
    'was written by another version of the database',
  ],
  [
    /checksum|corrupt|could not read|truncated|failed to read|serializ|database has been invalidated|invalid (block|pointer)|INTERNAL|out of range/i,
    'is damaged or cut short; restore the file from a copy, or name another OUT and sweep again',
  ],
  [/ENOENT|does not exist|no such file/i, 'does not exist; sweep FILE -o OUT makes it'],
];

/**
 * A database or file-system error in clear words.
 *
 * @param place the file
 * @returns an InputError where the cause is known, else the error itself, which is then a bug
 */
export function storeFault(place: string, error: unknown): Error {
  if (error instanceof InputError) return error;
  const raw = error instanceof Error ? error : new Error(String(error));
  const text = `${(raw as NodeJS.ErrnoException).code ?? ''} ${raw.message}`;
  const meaning = MEANINGS.find(([pattern]) => pattern.test(text));
  if (meaning === undefined) return raw;
  return new InputError([{ place, message: `${meaning[1]}${holder(text)}` }]);
}

/** `(process 1234)` where the database names who holds the lock. */
function holder(text: string): string {
  const process = /\(PID (\d+)/.exec(text);
  return process ? ` (process ${process[1]})` : '';
}
