import { DuckDBDecimalValue, type DuckDBValue } from '@duckdb/node-api';
import { InputError } from '../../scenario/errors.ts';
import { Database } from './database.ts';
import { existingStore } from './reader.ts';
import { readStoredStudy } from './stored-study.ts';

/** One value of an answer: numbers and yes/no as they are, null where there is none, anything else as text. */
export type Cell = string | number | boolean | null;

/** An answer of the store, cell by cell. */
export interface Answer {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  /** Whether more rows were found than asked for. */
  readonly more: boolean;
}

/**
 * Asks the store one question in SQL; nothing can be changed and no other file read. A question that the database aborts on
 * ends the process: see `askApart`.
 *
 * @param out as given to `sweep -o`
 * @param most rows wanted at most
 * @throws InputError with the database's own words where the question is wrong
 */
export async function ask(out: string, question: string, most: number): Promise<Answer> {
  if (question.replace(/;/g, '').trim() === '') {
    throw new InputError([
      { place: 'sql', message: 'the question is empty; e.g. "select * from points limit 5"' },
    ]);
  }
  const database = await Database.open(existingStore(out), 'read');
  try {
    await readStoredStudy(database);
    const result = await database.connection.stream(question);
    const rows: Cell[][] = [];
    while (rows.length <= most) {
      const chunk = await result.fetchChunk();
      if (chunk === null || chunk.rowCount === 0) break;
      for (const row of chunk.getRows()) rows.push(row.map(cell));
    }
    return { heads: result.columnNames(), rows: rows.slice(0, most), more: rows.length > most };
  } catch (error) {
    if (error instanceof InputError) throw error;
    const words = (error instanceof Error ? error.message : String(error))
      .split('\n')
      .filter((line) => line.trim());
    throw new InputError(words.map((message) => ({ place: 'sql', message })));
  } finally {
    database.close();
  }
}

function cell(value: DuckDBValue): Cell {
  if (value === null || typeof value === 'boolean' || typeof value === 'number') return value;
  if (typeof value === 'bigint' && Number.isSafeInteger(Number(value))) return Number(value);
  return value instanceof DuckDBDecimalValue ? value.toDouble() : String(value);
}
