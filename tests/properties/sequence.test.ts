import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { permuted } from '../../src/scenario/design/sequence/permutation.ts';
import { sobolCoordinate, sobolDirections } from '../../src/scenario/design/sequence/sobol.ts';

const directions = sobolDirections(64);
const seeds = fc.integer({ min: 0, max: 2 ** 32 - 1 });

describe('scrambled Sobol points', () => {
  test('meet each of 2^m slices of every axis once in every aligned run of 2^m points', () => {
    fc.assert(
      fc.property(seeds, fc.nat(63), fc.integer({ min: 0, max: 9 }), fc.nat(50), (seed, j, m, run) => {
        const n = 2 ** m;
        const met = new Set<number>();
        for (let i = 0; i < n; i++)
          met.add(Math.floor(n * sobolCoordinate(directions, run * n + i, j, seed)));
        expect(met.size).toBe(n);
      }),
      { numRuns: 100 },
    );
  });

  test('keep the first two axes a (0, m, 2)-net: each elementary box holds one point', () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 8 }), fc.nat(8), (seed, m, part) => {
        const a = Math.min(part, m);
        const boxes = new Set<string>();
        for (let i = 0; i < 2 ** m; i++) {
          const x = Math.floor(2 ** a * sobolCoordinate(directions, i, 0, seed));
          const y = Math.floor(2 ** (m - a) * sobolCoordinate(directions, i, 1, seed));
          boxes.add(`${x},${y}`);
        }
        expect(boxes.size).toBe(2 ** m);
      }),
      { numRuns: 100 },
    );
  });

  test('differ between seeds and between axes, and stay inside 0…1', () => {
    const at = (index: number, j: number, seed: number): number =>
      sobolCoordinate(directions, index, j, seed);
    const values = new Set<number>();
    for (let i = 0; i < 50; i++)
      for (let j = 0; j < 5; j++) for (const seed of [1, 2, 3]) values.add(at(i, j, seed));
    expect(values.size).toBe(750);
    for (const value of values) expect(value > 0 && value < 1).toBe(true);
  });

  // A product over distinct axes has mean 2^-d; plain random points of this number would scatter by 1.3 %.
  test('integrate a smooth product far better than random points', () => {
    for (const seed of [1, 2, 3, 4]) {
      let sum = 0;
      for (let i = 0; i < 4096; i++)
        for (let j = 0; j < 4; j += 2) {
          sum += sobolCoordinate(directions, i, j, seed) * sobolCoordinate(directions, i, j + 1, seed);
        }
      expect(Math.abs(sum / 8192 / 0.25 - 1)).toBeLessThan(5e-4);
    }
  });
});

test('a permuted index takes every place once', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 3000 }), seeds, (length, seed) => {
      const places = new Set<number>();
      for (let i = 0; i < length; i++) places.add(permuted(i, length, seed));
      expect(places.size).toBe(length);
      expect(Math.max(...places)).toBe(length - 1);
    }),
    { numRuns: 200 },
  );
});

test('permutations of different seeds differ', () => {
  const texts = [1, 2, 3, 4, 5].map((seed) =>
    Array.from({ length: 20 }, (_, i) => permuted(i, 20, seed)).join(),
  );
  expect(new Set(texts).size).toBe(5);
});
