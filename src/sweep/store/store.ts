import { existsSync, linkSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { InputError } from '../../scenario/errors.ts';
import type { Block, Range } from '../study/column.ts';
import { gapsIn } from '../study/range.ts';
import type { Study } from '../study/study.ts';
import { BlockAppender } from './append.ts';
import { nameBeside } from './atomic-write.ts';
import { Database } from './database.ts';
import { storeFault } from './fault.ts';
import { makeFolder } from './folder.ts';
import { differences } from './identity.ts';
import { tableStatements } from './schema.ts';
import { readEveryRow, storedRanges } from './stored-ranges.ts';
import { readStoredStudy, type StoredStudy, studyEntries } from './stored-study.ts';

/** Rows stored between two times the log is folded into the file. */
const FOLDED = 65_536;

/** Buffer the database needs beside the rows it folds in [MB], and for each of their bytes: measured, 1.5 is too little. */
const BUFFER = 24;
const BUFFER_PER_BYTE = 1.8;

/** Smallest buffer with which the log is folded in [MB]; less fails, more only fills. */
function bufferFor({ columns, curveSizes }: StoredStudy): number {
  const rows = FOLDED * (columns.length + curveSizes.length) * Float64Array.BYTES_PER_ELEMENT;
  return Math.ceil(BUFFER + (BUFFER_PER_BYTE * rows) / 1e6);
}

/**
 * The store of a running sweep: takes blocks, one transaction each, and knows what is missing. A process killed at any
 * moment leaves every finished block and nothing of the others. Close it.
 */
export class SweepStore {
  readonly stored: StoredStudy;
  readonly #database: Database;
  readonly #appender: BlockAppender;
  #sinceCheckpoint = 0;
  #writing: Promise<void> = Promise.resolve();

  private constructor(database: Database, stored: StoredStudy) {
    this.#database = database;
    this.stored = stored;
    this.#appender = new BlockAppender(stored.columns, stored.curveSizes.length);
  }

  /**
   * Opens the store at `path`, making it where there is none.
   *
   * @param wanted what the store is to hold
   * @throws InputError where another process holds it, or it holds something else
   */
  static async open(path: string, wanted: StoredStudy): Promise<SweepStore> {
    if (!existsSync(path)) await create(path, wanted);
    const database = await Database.open(path, 'write');
    try {
      const stored = await readStoredStudy(database);
      refuseOther(path, wanted, stored);
      await database.run(`SET memory_limit = '${bufferFor(stored)}MB'`);
      return new SweepStore(database, await extended(database, wanted, stored));
    } catch (error) {
      database.close();
      throw storeFault(path, error);
    }
  }

  /**
   * What of the wanted points the store does not hold yet. All that it holds is read, so that no damaged row counts as stored.
   *
   * @throws InputError where it is damaged
   */
  async missing(): Promise<Range[]> {
    const { range, size, curveSizes } = this.stored;
    try {
      const ranges = await storedRanges(this.#database, size);
      if (ranges.length > 0) await readEveryRow(this.#database, curveSizes.length > 0);
      return gapsIn(ranges, range);
    } catch (error) {
      throw storeFault(this.#database.path, error);
    }
  }

  /** Stores a block whole or not at all. Blocks are written one after another, in the order they come. */
  append(block: Block): Promise<void> {
    const written = this.#writing.then(() => this.#append(block));
    this.#writing = written.catch(() => undefined);
    return written;
  }

  async close(): Promise<void> {
    await this.#writing;
    try {
      this.#database.close();
    } catch (error) {
      throw storeFault(this.#database.path, error);
    }
  }

  async #append(block: Block): Promise<void> {
    const database = this.#database;
    try {
      await database.run('BEGIN');
      const points = await database.connection.createAppender('points');
      this.#appender.appendPoints(points, block);
      points.closeSync();
      if (block.curves !== undefined) {
        const curves = await database.connection.createAppender('curves');
        this.#appender.appendCurves(curves, block);
        curves.closeSync();
      }
      await database.run(`INSERT INTO chunks VALUES (${block.first}, ${block.count})`);
      await database.run('COMMIT');
      this.#sinceCheckpoint += block.count;
      if (this.#sinceCheckpoint >= FOLDED) {
        this.#sinceCheckpoint = 0;
        await database.run('CHECKPOINT');
      }
    } catch (error) {
      throw storeFault(database.path, error);
    }
  }
}

/** Makes a store beside its place and moves it there whole, so that no half-made one is ever found. */
async function create(path: string, wanted: StoredStudy): Promise<void> {
  const fresh = nameBeside(path);
  try {
    makeFolder(dirname(path));
    rmSync(fresh, { force: true });
    const database = await Database.open(fresh, 'write');
    try {
      await database.use();
      await fill(database, wanted);
    } finally {
      database.close();
    }
    moveNew(fresh, path);
  } catch (error) {
    throw storeFault(path, error);
  } finally {
    rmSync(fresh, { force: true });
    rmSync(`${fresh}.wal`, { force: true });
  }
}

/** Gives a file its name unless another process took it first; some file systems know no links. */
function moveNew(fresh: string, path: string): void {
  try {
    linkSync(fresh, path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST' || existsSync(path)) return;
    renameSync(fresh, path);
  }
}

/** Tables and self-description of an empty store. */
export async function fill(database: Database, wanted: StoredStudy): Promise<void> {
  await database.run('BEGIN');
  for (const statement of tableStatements(wanted.columns, wanted.curveSizes.length))
    await database.run(statement);
  for (const entry of studyEntries(wanted)) await database.run('INSERT INTO study VALUES ($1, $2)', entry);
  for (const [place, column] of wanted.columns.entries()) {
    const { name, role, of, unit, symbol, meaning } = column;
    const values = [place, name, role, of, unit, symbol, meaning];
    await database.run('INSERT INTO columns VALUES ($1, $2, $3, $4, $5, $6, $7)', values);
  }
  await database.run('COMMIT');
  await database.run('CHECKPOINT');
}

function refuseOther(path: string, wanted: StoredStudy, stored: StoredStudy): void {
  const { range } = stored;
  const sameRange = range.first === wanted.range.first && range.count === wanted.range.count;
  const whole = range.count === stored.size && wanted.range.count === wanted.size;
  if (stored.hash === wanted.hash && (sameRange || whole)) return;
  const remedy = 'Name another OUT, or delete this one to sweep again';
  const found = differences(wanted.study, wanted.version, stored.study, stored.version);
  const what =
    found.length > 0
      ? found
      : [`points ${range.first} to ${range.first + range.count - 1} of ${stored.size}`];
  throw new InputError([
    { place: path, message: `already holds a different sweep; not changed. ${remedy}. What differs:` },
    ...what.map((difference) => ({ place: path, message: difference })),
  ]);
}

/** A store of fewer points of a design that can be extended takes up the larger number. */
async function extended(database: Database, wanted: StoredStudy, stored: StoredStudy): Promise<StoredStudy> {
  if (wanted.size <= stored.size) return { ...stored, range: wanted.range };
  const larger = { ...stored, study: wanted.study as Study, size: wanted.size, range: wanted.range };
  await database.run('BEGIN');
  for (const [key, value] of studyEntries(larger)) {
    await database.run('UPDATE study SET value = $2 WHERE key = $1', [key, value]);
  }
  await database.run('COMMIT');
  return larger;
}
