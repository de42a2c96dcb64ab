import { type Field, type Lattice, nodes } from './lattice.ts';

/**
 * A field on a lattice `times` finer, by monotone cubics along x, then along y: smooth lines without overshoot.
 *
 * Slopes after Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238 (harmonic-mean form), `recalled`.
 *
 * @param field without NaN; fill gaps first
 * @param times subdivisions of each cell, ≥ 1
 */
export function refineField(lattice: Lattice, field: Field, times: number): Field {
  if (times === 1) return field;
  const width = lattice.x.length;
  const height = lattice.y.length;
  const fineWidth = (width - 1) * times + 1;
  const wide = new Float64Array(fineWidth * height);
  const row = new Float64Array(width);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) row[i] = field[j * width + i]!;
    refineLine(lattice.x, row, times, wide, j * fineWidth, 1);
  }
  const out = new Float64Array(fineWidth * ((height - 1) * times + 1));
  const column = new Float64Array(height);
  for (let i = 0; i < fineWidth; i++) {
    for (let j = 0; j < height; j++) column[j] = wide[j * fineWidth + i]!;
    refineLine(lattice.y, column, times, out, i, fineWidth);
  }
  return out;
}

/** The lattice `refineField` fills. */
export function refineLattice(lattice: Lattice, times: number): Lattice {
  const finer = (levels: Float64Array): Float64Array => {
    const out = new Float64Array((levels.length - 1) * times + 1);
    for (let k = 0; k < out.length; k++) {
      const i = Math.min(Math.floor(k / times), Math.max(0, levels.length - 2));
      const share = (k - i * times) / times;
      out[k] = share === 0 ? levels[i]! : levels[i]! + (levels[i + 1]! - levels[i]!) * share;
    }
    return out;
  };
  return { x: finer(lattice.x), y: finer(lattice.y) };
}

function refineLine(
  at: Float64Array,
  values: Float64Array,
  times: number,
  out: Float64Array,
  start: number,
  stride: number,
): void {
  const n = at.length;
  const slopes = monotoneSlopes(at, values);
  for (let i = 0; i < n - 1; i++) {
    const step = at[i + 1]! - at[i]!;
    for (let k = 0; k < times; k++) {
      const t = k / times;
      const s = 1 - t;
      out[start + (i * times + k) * stride] =
        s * s * (1 + 2 * t) * values[i]! +
        t * t * (3 - 2 * t) * values[i + 1]! +
        t * s * step * (s * slopes[i]! - t * slopes[i + 1]!);
    }
  }
  out[start + (n - 1) * times * stride] = values[n - 1]!;
}

function monotoneSlopes(at: Float64Array, values: Float64Array): Float64Array {
  const n = at.length;
  const slopes = new Float64Array(n);
  if (n < 2) return slopes;
  const rise = (i: number) => (values[i + 1]! - values[i]!) / (at[i + 1]! - at[i]!);
  slopes[0] = rise(0);
  slopes[n - 1] = rise(n - 2);
  for (let i = 1; i < n - 1; i++) {
    const before = rise(i - 1);
    const after = rise(i);
    if (before * after <= 0) continue;
    const left = at[i]! - at[i - 1]!;
    const right = at[i + 1]! - at[i]!;
    const a = 2 * right + left;
    const b = right + 2 * left;
    slopes[i] = (a + b) / (a / before + b / after);
  }
  return slopes;
}

/**
 * Fills nodes without a value from their neighbours, straight on where two stand in a row, ring by ring, so that lines
 * can be drawn up to the edge of what exists. What is filled is to be cut away again when drawn.
 *
 * @returns a field without NaN, or all zero where the field had no value at all
 */
export function fillGaps(lattice: Lattice, field: Field): Field {
  const width = lattice.x.length;
  const height = lattice.y.length;
  const out = Float64Array.from(field);
  let missing = countMissing(out);
  if (missing === nodes(lattice)) return out.fill(0);
  while (missing > 0) {
    const before = Float64Array.from(out);
    for (let j = 0; j < height; j++) {
      for (let i = 0; i < width; i++) {
        if (Number.isNaN(before[j * width + i]!)) out[j * width + i] = guess(before, width, height, i, j);
      }
    }
    missing = countMissing(out);
  }
  return out;
}

const AROUND = [
  [-1, 0],
  [1, 0],
  [0, -1],
  [0, 1],
] as const;

function guess(field: Field, width: number, height: number, i: number, j: number): number {
  let sum = 0;
  let count = 0;
  for (const [di, dj] of AROUND) {
    const near = read(field, width, height, i + di, j + dj);
    if (Number.isNaN(near)) continue;
    const beyond = read(field, width, height, i + 2 * di, j + 2 * dj);
    sum += Number.isNaN(beyond) ? near : 2 * near - beyond;
    count++;
  }
  return count === 0 ? Number.NaN : sum / count;
}

function read(field: Field, width: number, height: number, i: number, j: number): number {
  return i < 0 || j < 0 || i >= width || j >= height ? Number.NaN : field[j * width + i]!;
}

function countMissing(field: Field): number {
  let count = 0;
  for (const value of field) if (Number.isNaN(value)) count++;
  return count;
}
