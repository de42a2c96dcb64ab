/**
 * Place of `index` in a random permutation of 0…length−1 chosen by `seed`, found without building the permutation: a
 * hash that is one-to-one on the next power of two, walked until it falls inside. Published: Kensler, Correlated
 * Multi-Jittered Sampling, Pixar Technical Memo 13-01 (2013), constants recalled; the tests check that every place is
 * taken once.
 *
 * @example [0, 1, 2].map((i) => permuted(i, 3, 7)).sort() // [0, 1, 2]
 */
export function permuted(index: number, length: number, seed: number): number {
  let w = length - 1;
  w |= w >>> 1;
  w |= w >>> 2;
  w |= w >>> 4;
  w |= w >>> 8;
  w |= w >>> 16;
  let i = index | 0;
  do i = hashWithin(i, w, seed);
  while (i >>> 0 >= length);
  return ((i >>> 0) + (seed >>> 0)) % length;
}

function hashWithin(index: number, w: number, p: number): number {
  let i = index ^ p;
  i = Math.imul(i, 0xe170893d);
  i ^= p >>> 16;
  i ^= (i & w) >>> 4;
  i ^= p >>> 8;
  i = Math.imul(i, 0x0929eb3f);
  i ^= p >>> 23;
  i ^= (i & w) >>> 1;
  i = Math.imul(i, 1 | (p >>> 27));
  i = Math.imul(i, 0x6935fa69);
  i ^= (i & w) >>> 11;
  i = Math.imul(i, 0x74dcb303);
  i ^= (i & w) >>> 2;
  i = Math.imul(i, 0x9e501cc3);
  i ^= (i & w) >>> 2;
  i = Math.imul(i, 0xc860a3df);
  i &= w;
  return i ^ (i >>> 5);
}
