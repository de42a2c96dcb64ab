import {
  ARRAY,
  DOUBLE,
  type DuckDBAppender,
  DuckDBDataChunk,
  type DuckDBType,
  UINTEGER,
} from '@duckdb/node-api';
import duckdb, { type Vector } from '@duckdb/node-bindings';
import type { Block, Column } from '../study/column.ts';
import { pointTypes } from './schema.ts';

/** Rows of one data chunk: the vector size of the database. */
const ROWS = 2048;

/**
 * Hands blocks to the database's appender as data chunks, whole columns at a time. The database's object layer sets
 * value by value, which with missing values costs three times as much. One chunk is filled again and again: a fresh one
 * for every 2048 rows waits for the garbage collector.
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
  appendPoints(appender: DuckDBAppender, { first, count, values }: Block): void {
    for (let at = 0; at < count; at += ROWS) {
      const rows = Math.min(ROWS, count - at);
      const chunk = emptied(this.#points, rows);
      copyTo(
        chunk,
        0,
        Uint32Array.from({ length: rows }, (_, r) => first + at + r),
      );
      this.#columns.forEach((column, c) => {
        const start = c * count + at;
        fillColumn(vectorOf(chunk, c + 1), column, values.subarray(start, start + rows));
      });
      appender.appendDataChunk(chunk);
    }
  }

  /** Appends the size curves of a block to `curves`; choked points have none. */
  appendCurves(appender: DuckDBAppender, { first, count, curves }: Block): void {
    if (this.#curves === undefined || curves === undefined) return;
    const n = this.#curveSizes;
    const steady: number[] = [];
    for (let r = 0; r < count; r++) if (!Number.isNaN(curves[r * n])) steady.push(r);
    for (let at = 0; at < steady.length; at += ROWS) {
      const rows = steady.slice(at, at + ROWS);
      const chunk = emptied(this.#curves, rows.length);
      copyTo(
        chunk,
        0,
        Uint32Array.from(rows, (r) => first + r),
      );
      const sizes = duckdb.array_vector_get_child(vectorOf(chunk, 1));
      rows.forEach((r, k) => {
        copy(sizes, curves.subarray(r * n, (r + 1) * n), k * n * Float64Array.BYTES_PER_ELEMENT);
      });
      appender.appendDataChunk(chunk);
    }
  }
}

function emptied(chunk: DuckDBDataChunk, rows: number): DuckDBDataChunk {
  chunk.reset();
  chunk.rowCount = rows;
  return chunk;
}

function vectorOf(chunk: DuckDBDataChunk, place: number): Vector {
  return duckdb.data_chunk_get_vector(chunk.chunk, place);
}

type Values = Float64Array | Uint32Array | Uint16Array | Uint8Array;

function copyTo(chunk: DuckDBDataChunk, place: number, values: Values): void {
  copy(vectorOf(chunk, place), values, 0);
}

function copy(vector: Vector, values: Values, at: number): void {
  duckdb.copy_data_to_vector(vector, at, values.buffer as ArrayBuffer, values.byteOffset, values.byteLength);
}

/** Most names whose codes the database keeps in one byte. */
const BYTE_NAMES = 256;

/** A column's values as the database holds them: numbers as they are, names and yes/no by code; NaN is missing. */
function fillColumn(vector: Vector, column: Column, values: Float64Array): void {
  if (column.names === undefined && column.role !== 'meetsSpec') copy(vector, values, 0);
  else
    copy(
      vector,
      (column.names?.length ?? 0) <= BYTE_NAMES ? Uint8Array.from(values) : Uint16Array.from(values),
      0,
    );
  const present = presence(values);
  if (present === undefined) return;
  duckdb.vector_ensure_validity_writable(vector);
  duckdb.copy_data_to_vector_validity(vector, 0, present.buffer as ArrayBuffer, 0, present.byteLength);
}

/** One bit a row, set where there is a value; undefined where none is missing. */
function presence(values: Float64Array): Uint32Array | undefined {
  let bits: Uint32Array | undefined;
  for (let r = 0; r < values.length; r++) {
    if (!Number.isNaN(values[r])) continue;
    bits ??= new Uint32Array(2 * Math.ceil(values.length / 64)).fill(0xffffffff);
    bits[r >> 5]! &= ~(1 << (r & 31));
  }
  return bits;
}
