import type { DuckDBValue } from '@duckdb/node-api';
import { InputError } from '../../scenario/errors.ts';
import { Database } from './database.ts';
import { existingStore } from './reader.ts';
import { readStoredStudy } from './stored-study.ts';

/** An answer of the store as text, cell by cell. */
export interface Answer {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Whether more rows were found than asked for. */
  readonly more: boolean;
}

/**
 * Asks the store one question in SQL; nothing can be changed and no other file read.
 *
 * @param out as given to `sweep -o`
 * @param most rows wanted at most
 * @throws InputError with the database's own words where the question is wrong
 */
export async function ask(out: string, question: string, most: number): Promise<Answer> {
  const database = await Database.open(existingStore(out), 'read');
  try {
    await readStoredStudy(database);
    const result = await database.connection.stream(question);
    const rows: string[][] = [];
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

/** Numbers with the fewest digits that give them back; nothing for NULL. */
function cell(value: DuckDBValue): string {
  return value === null ? '' : String(value);
}
