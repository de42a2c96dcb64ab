import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import type { DuckDBDataChunk } from '@duckdb/node-api';
import duckdb from '@duckdb/node-bindings';
import { InputError } from '../../scenario/errors.ts';
import type { Column, Range } from '../study/column.ts';
import { gapsIn } from '../study/range.ts';
import { Database } from './database.ts';
import { storeFault } from './fault.ts';
import { quoted } from './schema.ts';
import { placeOf } from './store-path.ts';
import { storedRanges } from './stored-ranges.ts';
import { readStoredStudy, type StoredStudy } from './stored-study.ts';

/** Which rows and columns to read. */
export interface Selection {
  /** Heads of columns; all where absent. */
  readonly columns?: readonly string[];
  /** Condition on the rows in SQL, e.g. `status = 'steady'`. */
  readonly where?: string;
  readonly limit?: number;
}

/** Rows in the order of their index, column by column. */
export interface Rows {
  readonly count: number;
  /** Index of each row. */
  readonly index: Float64Array;
  /** By head, in the column's unit; NaN where there is none. Names and yes/no come as codes, see `Column.names`. */
  readonly values: Readonly<Record<string, Float64Array>>;
}

/** A store opened for reading; nothing can be changed through it. Close it. */
export class StoreReader {
  readonly stored: StoredStudy;
  /** Parts of the design whose points are not stored (yet). */
  readonly missing: readonly Range[];
  readonly #database: Database;

  private constructor(database: Database, stored: StoredStudy, missing: readonly Range[]) {
    this.#database = database;
    this.stored = stored;
    this.missing = missing;
  }

  /** @throws InputError where there is no store, or it is in use, damaged or foreign */
  static async open(path: string): Promise<StoreReader> {
    const database = await Database.open(path, 'read');
    try {
      const stored = await readStoredStudy(database);
      const ranges = await storedRanges(database, stored.size);
      return new StoreReader(database, stored, gapsIn(ranges, stored.range));
    } catch (error) {
      database.close();
      throw storeFault(path, error);
    }
  }

  /** Reads rows as typed arrays. */
  async rows(selection: Selection = {}): Promise<Rows> {
    const { columns: heads, where, limit } = selection;
    const columns = heads === undefined ? this.stored.columns : heads.map((head) => this.column(head));
    const condition = where === undefined ? '' : ` WHERE ${where}`;
    const count = Math.min(await this.#count(condition), limit ?? Number.POSITIVE_INFINITY);
    const wanted = [`CAST("index" AS DOUBLE)`, ...columns.map(asDouble)].join(', ');
    const top = limit === undefined ? '' : ` LIMIT ${Math.floor(limit)}`;
    const statement = `SELECT ${wanted} FROM points${condition} ORDER BY "index"${top}`;
    const arrays = await this.#read(statement, columns.length + 1, count);
    const values = Object.fromEntries(columns.map(({ name }, c) => [name, arrays[c + 1]!]));
    return { count, index: arrays[0]!, values };
  }

  /** Undersize of one point at `stored.curveSizes`; undefined where it is choked or no curves are kept. */
  async curve(index: number): Promise<Float64Array | undefined> {
    if (this.stored.curveSizes.length === 0) return undefined;
    const statement = `SELECT unnest(undersize) FROM curves WHERE "index" = ${Math.floor(index)}`;
    const rows = await this.#database.rows(statement);
    return rows.length === 0 ? undefined : Float64Array.from(rows, ([value]) => Number(value));
  }

  /** @throws InputError where no column has this head */
  column(head: string): Column {
    const found = this.stored.columns.find(({ name }) => name === head);
    if (found !== undefined) return found;
    const known = this.stored.columns.map(({ name }) => name).join(', ');
    throw new InputError([{ place: this.#database.path, message: `has no column ${head}; it has ${known}` }]);
  }

  /** Number of rows that meet a condition in SQL. */
  count(where: string): Promise<number> {
    return this.#count(` WHERE ${where}`);
  }

  close(): void {
    this.#database.close();
  }

  async #count(condition: string): Promise<number> {
    const [row] = await this.#asked(this.#database.rows(`SELECT count(*) FROM points${condition}`));
    return Number(row![0]);
  }

  async #read(statement: string, columns: number, count: number): Promise<Float64Array[]> {
    const arrays = Array.from({ length: columns }, () => new Float64Array(count));
    const result = await this.#asked(this.#database.connection.stream(statement));
    for (let at = 0; ; ) {
      const chunk = await this.#asked(result.fetchChunk());
      if (chunk === null || chunk.rowCount === 0) return arrays;
      for (let c = 0; c < columns; c++) copyColumn(chunk, c, arrays[c]!, at);
      at += chunk.rowCount;
    }
  }

  async #asked<T>(answer: Promise<T>): Promise<T> {
    try {
      return await answer;
    } catch (error) {
      throw storeFault(this.#database.path, error);
    }
  }
}

/** A column of numbers of a data chunk, whole, NaN where the database has none. */
function copyColumn(chunk: DuckDBDataChunk, place: number, into: Float64Array, at: number): void {
  const rows = chunk.rowCount;
  const vector = duckdb.data_chunk_get_vector(chunk.chunk, place);
  const data = duckdb.vector_get_data(vector, rows * Float64Array.BYTES_PER_ELEMENT);
  into.set(new Float64Array(data.buffer, data.byteOffset, rows), at);
  const present = duckdb.vector_get_validity(vector, Math.ceil(rows / 64) * BigUint64Array.BYTES_PER_ELEMENT);
  if (present === null) return;
  for (let r = 0; r < rows; r++) {
    if ((present[r >> 3]! & (1 << (r & 7))) === 0) into[at + r] = Number.NaN;
  }
}

function asDouble(column: Column): string {
  const name = quoted(column.name);
  return column.names === undefined ? `CAST(${name} AS DOUBLE)` : `CAST(enum_code(${name}) AS DOUBLE)`;
}

/**
 * Opens the store of a sweep for reading.
 *
 * @param out as given to `sweep -o`
 * @throws InputError where there is none, naming what to do
 */
export async function openStore(out: string): Promise<StoreReader> {
  return StoreReader.open(existingStore(out));
}

/** Path of the store behind OUT. */
export function existingStore(out: string): string {
  const { store } = placeOf(out);
  if (existsSync(store)) return store;
  const shards = shardsIn(out);
  const message =
    shards.length > 0
      ? `holds shards only (${shards.length} of them); join them first: grindloop merge ${out}`
      : 'contains no sweep; make one: grindloop sweep FILE -o OUT';
  throw new InputError([{ place: out, message }]);
}

/** File names of the shards in a folder, in order. */
export function shardsIn(folder: string): string[] {
  const where = folder.endsWith('.duckdb') ? dirname(folder) : folder;
  if (!statSync(where, { throwIfNoEntry: false })?.isDirectory()) return [];
  return readdirSync(where)
    .filter((name) => /^(.*-)?shard-\d+-of-\d+\.duckdb$/.test(name))
    .sort();
}
