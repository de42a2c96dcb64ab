import { InputError } from '../../scenario/errors.ts';
import type { Column, Range } from '../study/column.ts';
import type { Study } from '../study/study.ts';
import type { Database } from './database.ts';
import { readPlainData, writePlainData } from './plain-data.ts';

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

/** @throws InputError where the database holds no sweep */
export async function readStoredStudy(database: Database): Promise<StoredStudy> {
  const tables = await database.rows(
    "SELECT table_name FROM duckdb_tables() WHERE table_name IN ('study', 'points')",
  );
  if (tables.length < 2) throw refusal(database, 'is a database, but holds no sweep');
  const entries = new Map((await database.rows('SELECT key, value FROM study')) as [string, string][]);
  const layout = entries.get('layout');
  if (layout !== LAYOUT) {
    throw refusal(database, `has table layout ${layout}, this version of the program reads ${LAYOUT}`);
  }
  const of = (key: string): string => entries.get(key)!;
  return {
    study: readPlainData(of('study')) as Study,
    columns: readPlainData(of('columns')) as Column[],
    curveSizes: readPlainData(of('curveSizes')) as number[],
    size: Number(of('size')),
    range: readPlainData(of('range')) as Range,
    hash: of('hash'),
    version: of('version'),
  };
}

function refusal(database: Database, message: string): InputError {
  return new InputError([{ place: database.path, message }]);
}
