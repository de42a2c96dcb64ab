/**
 * Mixes two 32-bit integers into one whose bits all depend on both; the finaliser of MurmurHash3 (Appleby, public
 * domain, recalled) over their sum with the golden ratio.
 *
 * @example mix(1, 2) !== mix(2, 1) // true
 */
export function mix(value: number, seed: number): number {
  let h = (Math.imul(value ^ (value >>> 15), 0x9e3779b1) + seed) | 0;
  h ^= h >>> 16;
  h = Math.imul(h, 0x85ebca6b);
  h ^= h >>> 13;
  h = Math.imul(h, 0xc2b2ae35);
  h ^= h >>> 16;
  return h >>> 0;
}
