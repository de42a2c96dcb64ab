import { InputError } from '../../scenario/errors.ts';
import type { Column, Range } from '../study/column.ts';
import type { Study } from '../study/study.ts';
import { checkedStudy } from './checked-study.ts';
import { type Database, STORE } from './database.ts';
import { writePlainData } from './plain-data.ts';
import { checkColumns, checkTables } from './store-tables.ts';

/** What a store says of itself, beside its rows. */
export interface StoredStudy {
  readonly study: Study;
  readonly columns: readonly Column[];
  /** Sizes [m] of the stored curves, class edges; empty where none are kept. */
  readonly curveSizes: readonly number[];
  /** Points of the whole design. */
  readonly size: number;
  /** Points this store is to hold: all, or one shard's. */
  readonly range: Range;
  readonly hash: string;
  /** Program version that made it. */
  readonly version: string;
}

/** Layout of the tables; a store of another one is refused. */
const LAYOUT = '1';

/** The entries of table `study`. */
export function studyEntries(stored: StoredStudy): [key: string, value: string][] {
  const { study, columns, curveSizes, size, range, hash, version } = stored;
  return [
    ['layout', LAYOUT],
    ['version', version],
    ['hash', hash],
    ['title', study.scenario.title],
    ['text', study.scenario.text],
    ['study', writePlainData(study)],
    ['columns', writePlainData(columns)],
    ['curveSizes', writePlainData(curveSizes)],
    ['size', String(size)],
    ['range', writePlainData(range)],
  ];
}

/**
 * What a store says of itself, held against the tables it has and against its study, which is compiled anew. Makes the
 * store's tables those that a bare name means.
 *
 * @throws InputError where the file holds no sweep, or one that was changed after it was made
 */
export async function readStoredStudy(database: Database): Promise<StoredStudy> {
  await checkTables(database);
  const rows = await database.rows(`SELECT key, value FROM ${STORE}.study`);
  const entries = new Map(rows.map(([key, value]) => [String(key), String(value)]));
  const layout = entries.get('layout');
  if (layout !== LAYOUT) {
    throw refusal(database, `has table layout ${layout}, this version of the program reads ${LAYOUT}`);
  }
  const stored = checkedStudy(database.path, entries);
  await checkColumns(database, stored.columns, stored.curveSizes.length);
  await database.use();
  return stored;
}

function refusal(database: Database, message: string): InputError {
  return new InputError([{ place: database.path, message }]);
}
