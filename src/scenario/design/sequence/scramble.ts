/**
 * Owen scrambling of a 32-bit fraction: each bit is flipped by a hash of the bits above it, so that every elementary
 * interval keeps its share of points. Published: Burley, J. Comput. Graph. Tech. 9 (2020) 1, with the hash constants
 * recalled; the tests check the net property itself.
 *
 * @returns an unsigned 32-bit integer
 */
export function scramble(bits: number, seed: number): number {
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
