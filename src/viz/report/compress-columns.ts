/** A column as it travels in a page: integers on a scale of its own, coded as differences, deflated by the writer. */
export interface ColumnScale {
  /** Value of code 0 and of the highest code; of their logarithms where `log`. */
  readonly low: number;
  readonly high: number;
  readonly log: boolean;
  /** Points after which the design takes its fastest factor anew; 0 where it does not. */
  readonly stride: number;
}

/** Codes are finer than the eye: a plot of 480 px shows eight of them to a pixel. */
const HIGHEST = 4000;
/** Code of a value that does not exist where the point runs. */
const MISSING = 4095;
const RANGE = 4096;

/**
 * Values → 12-bit codes of their place in the column's range (of the logarithm's, for positive values over more than a
 * decade), coded as what the point before and the point one stride before do not tell: low bytes first, then high bytes.
 * Smooth columns so deflate to a few bits a point. The exact values stay in the store.
 *
 * @param runs whether a point has values at all; the others cost nothing
 */
export function packColumn(
  values: ArrayLike<number>,
  { stride = 0, runs }: { readonly stride?: number; readonly runs?: (row: number) => boolean } = {},
): { scale: ColumnScale; bytes: Uint8Array } {
  const scale = { ...scaleOf(values), stride };
  const along = scale.log ? Math.log : (value: number) => value;
  const step = (scale.high - scale.low) / HIGHEST || 1;
  const codes = new Int32Array(values.length);
  const bytes = new Uint8Array(2 * values.length);
  for (let i = 0; i < values.length; i++) {
    const guess = predicted(codes, i, stride);
    const value = values[i]!;
    if (Number.isFinite(value)) codes[i] = Math.round((along(value) - scale.low) / step);
    else codes[i] = runs?.(i) === false ? guess : MISSING;
    const surprise = (codes[i]! - guess + RANGE) % RANGE;
    bytes[i] = surprise & 0xff;
    bytes[values.length + i] = surprise >> 8;
  }
  return { scale, bytes };
}

/** What the points before tell of a code: the plane through three neighbours of the grid, kept within the codes. */
function predicted(codes: Int32Array, i: number, stride: number): number {
  const before = i > 0 ? codes[i - 1]! : 0;
  if (stride === 0 || i < stride + 1) return before;
  const plane = before + codes[i - stride]! - codes[i - stride - 1]!;
  return Math.min(RANGE - 1, Math.max(0, plane));
}

function scaleOf(values: ArrayLike<number>): Omit<ColumnScale, 'stride'> {
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
export function unpackColumn(
  { low, high, log, stride }: ColumnScale,
  bytes: Uint8Array,
  runs?: (row: number) => boolean,
): Float64Array {
  const count = bytes.length / 2;
  const values = new Float64Array(count);
  const codes = new Int32Array(count);
  const step = (high - low) / HIGHEST || 1;
  for (let i = 0; i < count; i++) {
    const code = (predicted(codes, i, stride) + bytes[i]! + (bytes[count + i]! << 8)) % RANGE;
    codes[i] = code;
    const missing = code === MISSING || runs?.(i) === false;
    values[i] = missing ? Number.NaN : log ? Math.exp(low + code * step) : low + code * step;
  }
  return values;
}
