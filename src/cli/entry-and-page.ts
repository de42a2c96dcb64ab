import { InputError } from '../scenario/errors.ts';

/** The file to write, such as a calibration or an entry, and the page, among what -o names. */
export function entryAndPage(
  files: readonly string[],
  what: string,
): [entry: string | undefined, page: string | undefined] {
  const pages = files.filter((file) => /\.html?$/i.test(file));
  const others = files.filter((file) => !pages.includes(file));
  if (pages.length > 1 || others.length > 1)
    throw new InputError([{ place: '-o/--output', message: `name one ${what} and one page at most` }]);
  return [others[0], pages[0]];
}
