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
 * row), and its log is folded in by the writer, not by itself at every few transactions. `join`: fills a new store.
 */
type Access = 'write' | 'read' | 'join';

const CONFIG: Readonly<Record<Access, Readonly<Record<string, string>>>> = {
  write: { threads: '1', memory_limit: '64MB', checkpoint_threshold: '1TB' },
  join: { threads: '1', memory_limit: '256MB' },
  read: { threads: '1', memory_limit: '128MB' },
};

/** Nothing is ever fetched from elsewhere. */
const OFFLINE = { autoinstall_known_extensions: 'false', autoload_known_extensions: 'false' };

/**
 * Rows of one row group of a store being written. A transaction of whole groups goes straight into the file; the rows of a
 * smaller one are written twice, to the log and, once that is folded in, to the file.
 */
export const ROW_GROUP = 8192;

/** Nowhere else than on attaching can the size of the row groups be set. */
const HOW: Readonly<Record<Access, string>> = {
  write: `ROW_GROUP_SIZE ${ROW_GROUP}`,
  join: 'READ_WRITE',
  read: 'READ_ONLY',
};

/** Size of the file's head before its first block [byte]. */
const HEAD = 3 * 4096;

/** Name of the opened file within the database. */
export const STORE = 'store';

/**
 * An open database file; close it. The file is attached to an empty instance that can reach nothing else: a store that
 * somebody sends may hold views over files of this machine, and functions named as those of the database.
 */
export class Database {
  readonly path: string;
  readonly connection: DuckDBConnection;
  readonly #instance: DuckDBInstance;

  private constructor(path: string, instance: DuckDBInstance, connection: DuckDBConnection) {
    this.path = path;
    this.#instance = instance;
    this.connection = connection;
  }

  /**
   * Opens the file; what its names mean is checked before they are used (see `readStoredStudy`).
   *
   * @param reaches other files that may be read or written
   * @throws InputError where the file is locked, foreign or cut short, or cannot be opened
   */
  static async open(path: string, access: Access, reaches: readonly string[] = []): Promise<Database> {
    try {
      return await Database.#attach(path, access, reaches);
    } catch (error) {
      throw storeFault(path, error);
    }
  }

  static async #attach(path: string, access: Access, reaches: readonly string[]): Promise<Database> {
    const file = resolve(path);
    // its own for every process, so that what a killed one left can be recognised and removed
    const folder = access === 'read' ? {} : { temp_directory: `${nameBeside(file)}.tmp` };
    const instance = await DuckDBInstance.create(':memory:', { ...OFFLINE, ...CONFIG[access], ...folder });
    try {
      const connection = await instance.connect();
      const database = new Database(path, instance, connection);
      await connection.run(`ATTACH ${literal(file)} AS ${STORE} (${HOW[access]})`);
      await database.#closeOff(reaches.map((other) => resolve(other)));
      await database.#refuseCutShort();
      return database;
    } catch (error) {
      instance.closeSync();
      throw error;
    }
  }

  /** From here on no file but the attached one and those named can be reached, and this cannot be undone. */
  async #closeOff(reaches: readonly string[]): Promise<void> {
    const paths = reaches.flatMap((path) => [path, `${path}.wal`]).map(literal);
    if (paths.length > 0) await this.run(`SET allowed_paths = [${paths.join(', ')}]`);
    await this.run('SET enable_external_access = false');
  }

  /** Makes the tables of the file those that a bare name means. */
  async use(): Promise<void> {
    await this.run(`USE ${STORE}`);
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
      `SELECT block_size, total_blocks FROM pragma_database_size() WHERE database_name = '${STORE}'`,
    );
    const least = Number(row![0]) * Number(row![1]) + HEAD;
    const size = statSync(this.path).size;
    if (size >= least) return;
    const message = `is cut short: ${size} of at least ${least} bytes; restore the file from a copy, or name another OUT`;
    throw new InputError([{ place: this.path, message }]);
  }
}
