import { type Fault, InputError } from '../../scenario/errors.ts';
import type { Column } from '../study/column.ts';
import { type Database, STORE } from './database.ts';
import { tableColumns } from './schema.ts';

/** Tables a store must have, and those it may have. */
const NEEDED = ['study', 'points', 'chunks'] as const;
const KNOWN: readonly string[] = [...NEEDED, 'columns', 'curves'];

/** What a file of the database can hold, besides tables: kind in words, and the query that names them. */
const OTHERS: readonly (readonly [kind: string, query: string])[] = [
  ['view', `SELECT view_name FROM duckdb_views() WHERE database_name = '${STORE}' AND NOT internal`],
  [
    'function',
    `SELECT DISTINCT function_name FROM duckdb_functions() WHERE database_name = '${STORE}' AND NOT internal`,
  ],
  [
    'schema',
    `SELECT schema_name FROM duckdb_schemas() WHERE database_name = '${STORE}' AND NOT internal AND schema_name <> 'main'`,
  ],
  [
    'table',
    `SELECT table_name FROM duckdb_tables() WHERE database_name = '${STORE}' AND schema_name = 'main'`,
  ],
];

/**
 * Refuses a file that holds anything but the plain tables of a sweep. Called before the file's names are made those of the
 * connection: a view over a file elsewhere, or a function named as one of the database, must not be run.
 *
 * @throws InputError naming everything else it holds
 */
export async function checkTables(database: Database): Promise<void> {
  const found = await Promise.all(OTHERS.map(([, query]) => namesFrom(database, query)));
  const tables = found.at(-1)!;
  const strange: Fault[] = found.flatMap((names, k) =>
    names
      .filter((name) => OTHERS[k]![0] !== 'table' || !KNOWN.includes(name))
      .map((name) => ({
        place: database.path,
        message: `holds the ${OTHERS[k]![0]} ${name}, which no sweep makes: the file was changed and is not read`,
      })),
  );
  const absent = NEEDED.filter((name) => !tables.includes(name));
  if (absent.length > 0 && (strange.length === 0 || absent.includes('study'))) {
    throw new InputError([{ place: database.path, message: 'is a database, but contains no sweep' }]);
  }
  if (strange.length > 0) throw new InputError(strange.slice(0, MOST_NAMED));
}

/** Faults of one file told at most. */
const MOST_NAMED = 10;

/**
 * Refuses tables whose columns are not those of the study.
 *
 * @throws InputError naming the first column of every table that differs
 */
export async function checkColumns(
  database: Database,
  columns: readonly Column[],
  curveSizes: number,
): Promise<void> {
  const rows = await database.rows(
    `SELECT table_name, column_name, data_type FROM duckdb_columns()
     WHERE database_name = '${STORE}' AND schema_name = 'main' ORDER BY table_name, column_index`,
  );
  const faults: Fault[] = [];
  for (const [table, wanted] of Object.entries(tableColumns(columns, curveSizes))) {
    const stored = rows
      .filter(([name]) => name === table)
      .map(([, name, type]) => `${name} ${plainType(type)}`);
    const expected = wanted.map(([name, type]) => `${name} ${plainType(type)}`);
    const at = expected.findIndex((column, c) => column !== stored[c]);
    if (at < 0 && stored.length === expected.length) continue;
    const other = stored[at < 0 ? expected.length : at] ?? 'nothing';
    const message = `its table ${table} has ${brief(other)} where its study has ${brief(expected[at] ?? 'nothing')}: the file was changed and is not read`;
    faults.push({ place: database.path, message });
  }
  if (faults.length > 0) throw new InputError(faults);
}

/** Types of the database as text, however their names are quoted and spaced. */
function plainType(type: unknown): string {
  return String(type).replaceAll(/\s+(?=\()|(?<=,)\s+/g, '');
}

function brief(text: string): string {
  return text.length > 60 ? `${text.slice(0, 59)}…` : text;
}

async function namesFrom(database: Database, query: string): Promise<string[]> {
  return (await database.rows(query)).map(([name]) => String(name)).sort();
}
