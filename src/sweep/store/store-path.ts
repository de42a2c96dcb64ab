import { statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { InputError } from '../../scenario/errors.ts';
import type { Shard } from '../study/shard.ts';

const STORE = 'sweep.duckdb';

/** Where a sweep keeps what it makes: OUT is a folder, or a `.duckdb` file whose folder then takes the rest. */
export interface Place {
  readonly folder: string;
  /** The store itself. */
  readonly store: string;
}

/**
 * Files behind OUT. A shard has a store of its own beside the whole one, `shard-2-of-8.duckdb`, so that all jobs of an
 * array can share one folder.
 *
 * @throws InputError where OUT is a file that is no store
 */
export function placeOf(out: string, shard?: Shard): Place {
  const isFile = out.endsWith('.duckdb');
  if (!isFile && isExistingFile(out)) {
    throw new InputError([
      { place: out, message: 'is a file; name a folder, or a file that ends in .duckdb' },
    ]);
  }
  const folder = isFile ? dirname(out) : out;
  if (shard === undefined) return { folder, store: isFile ? out : join(out, STORE) };
  const width = String(shard.of).length;
  const part = `shard-${String(shard.part).padStart(width, '0')}-of-${shard.of}.duckdb`;
  return { folder, store: join(folder, isFile ? `${basename(out, '.duckdb')}-${part}` : part) };
}

function isExistingFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
