/** A column as it travels in a page: integers on a scale of its own, coded as differences, deflated by the writer. */
export interface ColumnScale {
  /** Value of code 0 and of the highest code; of their logarithms where `log`. */
  readonly low: number;
  readonly high: number;
  readonly log: boolean;
}

/** Codes are finer than a pixel of the largest figure by far: 1/16000 of a column's range. */
const HIGHEST = 16000;
/** Code of a value that does not exist. */
const MISSING = 16383;

/**
 * Values → 16-bit differences of codes, low bytes first, then high bytes: smooth columns deflate well.
 *
 * Quantised to 1/16000 of the range, or of the logarithm's range for positive values over more than a decade; the exact
 * values stay in the store.
 */
export function packColumn(values: ArrayLike<number>): { scale: ColumnScale; bytes: Uint8Array } {
  const scale = scaleOf(values);
  const along = scale.log ? Math.log : (value: number) => value;
  const step = (scale.high - scale.low) / HIGHEST || 1;
  const bytes = new Uint8Array(2 * values.length);
  let before = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    const code = Number.isFinite(value) ? Math.round((along(value) - scale.low) / step) : MISSING;
    const difference = (code - before) & 0xffff;
    bytes[i] = difference & 0xff;
    bytes[values.length + i] = difference >> 8;
    before = code;
  }
  return { scale, bytes };
}

function scaleOf(values: ArrayLike<number>): ColumnScale {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (low > high) return { low: 0, high: 0, log: false };
  const log = low > 0 && high / low > 10;
  return log ? { low: Math.log(low), high: Math.log(high), log } : { low, high, log };
}

/** What `packColumn` packed, with NaN where a value does not exist. */
export function unpackColumn({ low, high, log }: ColumnScale, bytes: Uint8Array): Float64Array {
  const values = new Float64Array(bytes.length / 2);
  const step = (high - low) / HIGHEST || 1;
  let code = 0;
  for (let i = 0; i < values.length; i++) {
    code = (code + bytes[i]! + (bytes[values.length + i]! << 8)) & 0xffff;
    const at = low + code * step;
    values[i] = code === MISSING ? Number.NaN : log ? Math.exp(at) : at;
  }
  return values;
}
