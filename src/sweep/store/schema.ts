import { BOOLEAN, DOUBLE, type DuckDBType, ENUM, UINTEGER } from '@duckdb/node-api';
import type { Column } from '../study/column.ts';

/** Points a store can number. */
export const MOST_POINTS = 2 ** 32 - 1;

/** A name in a statement. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/** A text in a statement. */
export function literal(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

function sqlType(column: Column): string {
  if (column.role === 'meetsSpec') return 'BOOLEAN';
  return column.names === undefined ? 'DOUBLE' : `ENUM (${column.names.map(literal).join(', ')})`;
}

/** Statements that make the tables of a store: `study`, `columns`, `chunks`, `points`, and `curves` where kept. */
export function tableStatements(columns: readonly Column[], curveSizes: number): string[] {
  const points = columns.map((column) => `${quoted(column.name)} ${sqlType(column)}`).join(', ');
  const statements = [
    'CREATE TABLE study (key VARCHAR PRIMARY KEY, value VARCHAR NOT NULL)',
    `CREATE TABLE columns (place INTEGER, name VARCHAR, role VARCHAR, "of" VARCHAR, unit VARCHAR, symbol VARCHAR,
      meaning VARCHAR)`,
    'CREATE TABLE chunks (first BIGINT, count BIGINT)',
    `CREATE TABLE points ("index" UINTEGER NOT NULL, ${points})`,
  ];
  if (curveSizes > 0) {
    statements.push(`CREATE TABLE curves ("index" UINTEGER NOT NULL, undersize DOUBLE[${curveSizes}])`);
  }
  return statements;
}

/** Types of `points`, index first, for the appender. */
export function pointTypes(columns: readonly Column[]): DuckDBType[] {
  return [UINTEGER, ...columns.map(typeOf)];
}

function typeOf(column: Column): DuckDBType {
  if (column.role === 'meetsSpec') return BOOLEAN;
  return column.names === undefined ? DOUBLE : ENUM([...column.names]);
}
