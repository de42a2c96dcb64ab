import { statSync } from 'node:fs';
import { resolve } from 'node:path';
import { type DuckDBConnection, DuckDBInstance, type DuckDBValue } from '@duckdb/node-api';
import { InputError } from '../../scenario/errors.ts';
import { nameBeside } from './atomic-write.ts';
import { storeFault } from './fault.ts';
import { literal } from './schema.ts';

/**
 * How a store is opened. `write`: a small buffer (the store sets its own once it knows its columns) and one thread, so
 * that the database takes neither the workers' memory nor their cores (two threads cost a third more processor time a
 * row), and its log is folded in by the writer, not by itself at every few transactions. `read`: nothing outside the file can be touched. `export`: the same, but files can be written. `join`: fills a new store.
 */
export type Access = 'write' | 'read' | 'export' | 'join';

const CONFIG: Readonly<Record<Access, Readonly<Record<string, string>>>> = {
  write: { threads: '1', memory_limit: '64MB', checkpoint_threshold: '1TB' },
  export: { access_mode: 'READ_ONLY', threads: '2', memory_limit: '256MB' },
  join: { threads: '1', memory_limit: '256MB' },
  read: { access_mode: 'READ_ONLY', threads: '2', memory_limit: '256MB', enable_external_access: 'false' },
};

/** Nothing is ever fetched from elsewhere. */
const OFFLINE = { autoinstall_known_extensions: 'false', autoload_known_extensions: 'false' };

/**
 * Rows of one row group of a store being written. A transaction of whole groups goes straight into the file; the rows of a
 * smaller one are written twice, to the log and, once that is folded in, to the file.
 */
export const ROW_GROUP = 8192;

/** Size of the file's head before its first block [byte]. */
const HEAD = 3 * 4096;

/** An open database file; close it. */
export class Database {
  readonly path: string;
  readonly connection: DuckDBConnection;
  readonly #instance: DuckDBInstance;

  private constructor(path: string, instance: DuckDBInstance, connection: DuckDBConnection) {
    this.path = path;
    this.#instance = instance;
    this.connection = connection;
  }

  /** @throws InputError where the file is locked, foreign, cut short or not to be had */
  static async open(path: string, access: Access): Promise<Database> {
    try {
      const database = await (access === 'write' ? Database.#attach(path) : Database.#create(path, access));
      await database.#refuseCutShort();
      return database;
    } catch (error) {
      throw storeFault(path, error);
    }
  }

  static async #create(path: string, access: Access): Promise<Database> {
    // a whole path: `a:b.duckdb` alone would name an extension of the database
    const instance = await DuckDBInstance.create(resolve(path), { ...OFFLINE, ...CONFIG[access] });
    return new Database(path, instance, await instance.connect());
  }

  /** A file written to is attached to an empty instance: nowhere else can the size of its row groups be set. */
  static async #attach(path: string): Promise<Database> {
    const file = resolve(path);
    // its own for every process, so that what a killed one left can be told and removed
    const config = { ...OFFLINE, ...CONFIG.write, temp_directory: `${nameBeside(file)}.tmp` };
    const instance = await DuckDBInstance.create(':memory:', config);
    try {
      const connection = await instance.connect();
      await connection.run(`ATTACH ${literal(file)} AS store (ROW_GROUP_SIZE ${ROW_GROUP})`);
      await connection.run('USE store');
      return new Database(path, instance, connection);
    } catch (error) {
      instance.closeSync();
      throw error;
    }
  }

  /** Runs one statement; values stand for `$1`, `$2` … */
  async run(statement: string, values: readonly DuckDBValue[] = []): Promise<void> {
    await this.connection.run(statement, [...values]);
  }

  /** All rows of a small answer. */
  async rows(statement: string): Promise<DuckDBValue[][]> {
    return (await this.connection.runAndReadAll(statement)).getRows();
  }

  close(): void {
    this.connection.closeSync();
    this.#instance.closeSync();
  }

  /** A file shorter than the blocks its head counts opens well and fails later, or grows on top of the loss. */
  async #refuseCutShort(): Promise<void> {
    const [row] = await this.rows(
      'SELECT block_size, total_blocks FROM pragma_database_size() WHERE database_name = current_database()',
    );
    const least = Number(row![0]) * Number(row![1]) + HEAD;
    const size = statSync(this.path).size;
    if (size >= least) return;
    this.close();
    const message = `is cut short: ${size} of at least ${least} bytes; put the file back from a copy, or name another OUT`;
    throw new InputError([{ place: this.path, message }]);
  }
}
