/** Why a stream of the process could not be written, in one line. */
export function writeFault(name: string, { code, message }: NodeJS.ErrnoException): string {
  const full = code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG';
  return `${name}: cannot be written${full ? ', the disk is full' : `: ${message}`}`;
}
