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

type NamedType = readonly [name: string, type: string];

/** Names and types of the columns of a store's tables: `study`, `columns`, `chunks`, `points`, and `curves` where kept. */
export function tableColumns(
  columns: readonly Column[],
  curveSizes: number,
): Readonly<Record<string, readonly NamedType[]>> {
  const words = ['name', 'role', 'of', 'unit', 'symbol', 'meaning'];
  const index: NamedType = ['index', 'UINTEGER'];
  return {
    study: [
      ['key', 'VARCHAR'],
      ['value', 'VARCHAR'],
    ],
    columns: [['place', 'INTEGER'], ...words.map((word): NamedType => [word, 'VARCHAR'])],
    chunks: [
      ['first', 'BIGINT'],
      ['count', 'BIGINT'],
    ],
    points: [index, ...columns.map((column): NamedType => [column.name, sqlType(column)])],
    ...(curveSizes > 0 ? { curves: [index, ['undersize', `DOUBLE[${curveSizes}]`] as const] } : {}),
  };
}

/** What must hold in a column, beyond its type. */
const RULES: Readonly<Record<string, string>> = {
  'study.key': 'PRIMARY KEY',
  'study.value': 'NOT NULL',
  'points.index': 'NOT NULL',
  'curves.index': 'NOT NULL',
};

/** Statements that make the tables of a store. */
export function tableStatements(columns: readonly Column[], curveSizes: number): string[] {
  return Object.entries(tableColumns(columns, curveSizes)).map(([table, of]) => {
    const lines = of.map(([name, type]) =>
      [quoted(name), type, RULES[`${table}.${name}`]].filter(Boolean).join(' '),
    );
    return `CREATE TABLE ${table} (${lines.join(', ')})`;
  });
}

/** Types of `points`, index first, for the appender. */
export function pointTypes(columns: readonly Column[]): DuckDBType[] {
  return [UINTEGER, ...columns.map(typeOf)];
}

function typeOf(column: Column): DuckDBType {
  if (column.role === 'meetsSpec') return BOOLEAN;
  return column.names === undefined ? DOUBLE : ENUM([...column.names]);
}
