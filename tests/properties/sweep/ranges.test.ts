import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readPlainData, writePlainData } from '../../../src/sweep/store/plain-data.ts';
import { chunksOf, gapsIn, pointsIn } from '../../../src/sweep/study/range.ts';
import { shardRange } from '../../../src/sweep/study/shard.ts';

const ranges = fc.array(fc.record({ first: fc.nat(200), count: fc.integer({ min: 1, max: 40 }) }), {
  maxLength: 8,
});

test('gaps are exactly the points no range covers', () => {
  fc.assert(
    fc.property(ranges, fc.nat(100), fc.integer({ min: 1, max: 150 }), (given, first, count) => {
      const covered = new Set(given.flatMap((r) => Array.from({ length: r.count }, (_, k) => r.first + k)));
      const expected = Array.from({ length: count }, (_, k) => first + k).filter((i) => !covered.has(i));
      const found = gapsIn(given, { first, count }).flatMap((r) =>
        Array.from({ length: r.count }, (_, k) => r.first + k),
      );
      expect(found).toEqual(expected);
    }),
  );
});

test('chunks cover ranges once, in order, none larger than asked', () => {
  fc.assert(
    fc.property(ranges, fc.integer({ min: 1, max: 64 }), (given, size) => {
      const chunks = [...chunksOf(given, size)];
      expect(pointsIn(chunks)).toBe(pointsIn(given));
      expect(chunks.every(({ count }) => count >= 1 && count <= size)).toBe(true);
      const points = (list: typeof given) =>
        list.flatMap((r) => Array.from({ length: r.count }, (_, k) => r.first + k));
      expect(points(chunks)).toEqual(points(given));
    }),
  );
});

test('shards tile a design, their sizes a point apart at most', () => {
  fc.assert(
    fc.property(fc.nat(1e6), fc.integer({ min: 1, max: 300 }), (size, of) => {
      const shards = Array.from({ length: of }, (_, k) => shardRange({ part: k + 1, of }, size));
      expect(gapsIn(shards, { first: 0, count: size })).toEqual([]);
      expect(pointsIn(shards)).toBe(size);
      const counts = shards.map(({ count }) => count);
      expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1);
    }),
  );
});

test('plain data comes back as it was, infinities included, whatever the order of keys', () => {
  const leaf = fc.oneof(fc.double(), fc.string(), fc.boolean(), fc.constant(null));
  const key = fc.string().filter((text) => text !== 'number' && text !== '__proto__');
  const data = fc.dictionary(key, fc.oneof(leaf, fc.array(leaf), fc.dictionary(key, leaf)));
  fc.assert(
    fc.property(data, (value) => {
      const text = writePlainData(value);
      expect(writePlainData(readPlainData(text))).toBe(text);
      const turned = Object.fromEntries(Object.entries(value).reverse());
      expect(writePlainData(turned)).toBe(text);
    }),
  );
  expect(readPlainData(writePlainData({ stages: Number.POSITIVE_INFINITY }))).toEqual({
    stages: Number.POSITIVE_INFINITY,
  });
});
