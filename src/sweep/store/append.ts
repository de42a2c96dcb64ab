import {
  ARRAY,
  arrayValue,
  DOUBLE,
  type DuckDBAppender,
  DuckDBDataChunk,
  type DuckDBType,
  UINTEGER,
} from '@duckdb/node-api';
import type { Block, Column } from '../study/column.ts';
import { pointTypes } from './schema.ts';

/** Rows of one data chunk: the vector size of the database. */
const ROWS = 2048;

/**
 * Hands blocks to the database's appender as data chunks. One chunk is filled again and again: a fresh one for every
 * 2048 rows waits for the garbage collector and costs a third more memory.
 */
export class BlockAppender {
  readonly #columns: readonly Column[];
  readonly #curveSizes: number;
  readonly #points: DuckDBDataChunk;
  readonly #curves: DuckDBDataChunk | undefined;

  constructor(columns: readonly Column[], curveSizes: number) {
    this.#columns = columns;
    this.#curveSizes = curveSizes;
    this.#points = DuckDBDataChunk.create(pointTypes(columns));
    const curveTypes: DuckDBType[] = [UINTEGER, ARRAY(DOUBLE, curveSizes)];
    this.#curves = curveSizes > 0 ? DuckDBDataChunk.create(curveTypes) : undefined;
  }

  /** Appends the rows of a block to `points`. */
  appendPoints(appender: DuckDBAppender, block: Block): void {
    const chunk = this.#points;
    for (let at = 0; at < block.count; at += ROWS) {
      const rows = Math.min(ROWS, block.count - at);
      chunk.reset();
      chunk.rowCount = rows;
      const index = chunk.getColumnVector(0);
      for (let r = 0; r < rows; r++) index.setItem(r, block.first + at + r);
      index.flush();
      this.#columns.forEach((column, c) => {
        const start = c * block.count + at;
        fillVector(chunk, c + 1, column, block.values.subarray(start, start + rows));
      });
      appender.appendDataChunk(chunk);
    }
  }

  /** Appends the size curves of a block to `curves`; choked points have none. */
  appendCurves(appender: DuckDBAppender, block: Block): void {
    const chunk = this.#curves;
    if (chunk === undefined || block.curves === undefined) return;
    const n = this.#curveSizes;
    const steady: number[] = [];
    for (let r = 0; r < block.count; r++) if (!Number.isNaN(block.curves[r * n])) steady.push(r);
    for (let at = 0; at < steady.length; at += ROWS) {
      const rows = steady.slice(at, at + ROWS);
      chunk.reset();
      chunk.rowCount = rows.length;
      const index = chunk.getColumnVector(0);
      const undersize = chunk.getColumnVector(1);
      rows.forEach((r, k) => {
        index.setItem(k, block.first + r);
        undersize.setItem(k, arrayValue([...block.curves!.subarray(r * n, (r + 1) * n)]));
      });
      index.flush();
      undersize.flush();
      appender.appendDataChunk(chunk);
    }
  }
}

function fillVector(chunk: DuckDBDataChunk, place: number, column: Column, values: Float64Array): void {
  const vector = chunk.getColumnVector(place);
  const rows = values.length;
  if (column.names !== undefined) {
    for (let r = 0; r < rows; r++) vector.setItem(r, column.names[values[r]!] ?? null);
  } else if (column.role === 'meetsSpec') {
    for (let r = 0; r < rows; r++) vector.setItem(r, Number.isNaN(values[r]) ? null : values[r] === 1);
  } else {
    for (let r = 0; r < rows; r++) {
      const value = values[r]!;
      vector.setItem(r, Number.isNaN(value) ? null : value);
    }
  }
  vector.flush();
}
