import { InputError } from './errors.ts';

/** Packages that an installation may leave out, and what cannot be done without them. */
const OPTIONAL: Readonly<Record<string, string>> = {
  '@duckdb/node-api': 'the store of a sweep',
  '@duckdb/node-bindings': 'the store of a sweep',
  '@resvg/resvg-js': 'a PNG picture; --svg needs nothing more',
  'plotly.js-dist-min': 'the turned surface of a page',
  piscina: 'the threads of a sweep',
};

/**
 * An import that failed because an optional package was left out, in words.
 *
 * @returns the error itself where it is another one
 */
export function missingPackage(error: unknown): unknown {
  const { code, message = '' } = error as NodeJS.ErrnoException;
  if (code !== 'ERR_MODULE_NOT_FOUND' && code !== 'MODULE_NOT_FOUND') return error;
  const name = Object.keys(OPTIONAL).find((each) => message.includes(each));
  if (name === undefined) return error;
  const what = `is not installed; it is needed for ${OPTIONAL[name]}: npm install ${name}`;
  return new InputError([{ place: name, message: what }]);
}
