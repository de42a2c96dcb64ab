import { DIRECTION_NUMBERS } from './direction-numbers.ts';
import { mix } from './hash.ts';

/** Most dimensions the direction numbers here reach. */
export const SOBOL_DIMENSIONS = DIRECTION_NUMBERS.length + 1;

const BITS = 32;

/** V[j·32 + k]: direction integers of dimension j, the k-th scaled by 2^(32−k−1). */
type Directions = Uint32Array;

/**
 * Direction integers by the recurrence m_k = 2a_1 m_{k−1} ⊕ … ⊕ 2^s m_{k−s} ⊕ m_{k−s} (Bratley & Fox, ACM Trans. Math.
 * Softw. 14 (1988) 88, recalled).
 *
 * @param dimensions 1…64
 */
export function sobolDirections(dimensions: number): Directions {
  const all = new Uint32Array(dimensions * BITS);
  for (let j = 0; j < dimensions; j++) {
    const v = all.subarray(j * BITS, (j + 1) * BITS);
    const row = DIRECTION_NUMBERS[j - 1];
    if (row === undefined) for (let k = 0; k < BITS; k++) v[k] = (1 << (BITS - 1 - k)) >>> 0;
    else fillDirections(v, row[0], row[1]);
  }
  return all;
}

function fillDirections(v: Uint32Array, polynomial: number, initial: readonly number[]): void {
  const s = initial.length;
  for (let k = 0; k < BITS; k++) {
    if (k < s) {
      v[k] = (initial[k]! << (BITS - 1 - k)) >>> 0;
      continue;
    }
    let value = v[k - s]! ^ (v[k - s]! >>> s);
    for (let i = 1; i < s; i++) if ((polynomial >> (s - 1 - i)) & 1) value ^= v[k - i]!;
    v[k] = value >>> 0;
  }
}

/**
 * Coordinate of point `index` in dimension `dimension`, 0 ≤ u < 1, as a function of the index alone: more points
 * never move the earlier ones. Points come in Gray-code order. Seed 0 gives the plain sequence, whose point 0 is the
 * origin; any other seed an Owen-scrambled one, taken at the middle of its 2⁻³² cell.
 *
 * @example sobolCoordinate(sobolDirections(2), 2, 1, 0) // 0.25
 */
export function sobolCoordinate(
  directions: Directions,
  index: number,
  dimension: number,
  seed: number,
): number {
  let gray = (index ^ (index >>> 1)) >>> 0;
  let x = 0;
  for (let k = dimension * BITS; gray !== 0; k++, gray >>>= 1) if (gray & 1) x ^= directions[k]!;
  if (seed === 0) return (x >>> 0) / 2 ** BITS;
  return (scramble(x, mix(dimension + 1, seed)) + 0.5) / 2 ** BITS;
}

/**
 * Owen scrambling of a 32-bit fraction: each bit is flipped by a hash of the bits above it, so that every elementary
 * interval keeps its share of points. Published: Burley, J. Comput. Graph. Tech. 9 (2020) 1, with the hash constants
 * recalled; the tests check the net property itself.
 *
 * @returns an unsigned 32-bit integer
 */
function scramble(bits: number, seed: number): number {
  let x = reverse(bits);
  x ^= Math.imul(x, 0x3d20adea);
  x = (x + seed) | 0;
  x = Math.imul(x, (seed >>> 16) | 1);
  x ^= Math.imul(x, 0x05526c56);
  x ^= Math.imul(x, 0x53a22864);
  return reverse(x);
}

function reverse(bits: number): number {
  let x = bits;
  x = ((x >>> 1) & 0x55555555) | ((x & 0x55555555) << 1);
  x = ((x >>> 2) & 0x33333333) | ((x & 0x33333333) << 2);
  x = ((x >>> 4) & 0x0f0f0f0f) | ((x & 0x0f0f0f0f) << 4);
  x = ((x >>> 8) & 0x00ff00ff) | ((x & 0x00ff00ff) << 8);
  return ((x >>> 16) | (x << 16)) >>> 0;
}
