import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { DIRECTION_NUMBERS } from '../../src/scenario/design/sequence/direction-numbers.ts';
import {
  SOBOL_DIMENSIONS,
  sobolCoordinate,
  sobolDirections,
} from '../../src/scenario/design/sequence/sobol.ts';

const plain = (index: number, dimension: number, dimensions = 64): number =>
  sobolCoordinate(sobolDirections(dimensions), index, dimension, 0);

describe('unscrambled Sobol points', () => {
  test('are those of SciPy 1.17.1 in all 64 dimensions, to the last bit', () => {
    const file = new URL('fixtures/sobol-64.json', import.meta.url);
    const { rows } = JSON.parse(readFileSync(file, 'utf8')) as { rows: Record<string, number[]> };
    const directions = sobolDirections(SOBOL_DIMENSIONS);
    for (const [index, row] of Object.entries(rows)) {
      const own = row.map((_, j) => sobolCoordinate(directions, Number(index), j, 0));
      expect(own, `point ${index}`).toEqual(row);
    }
  });

  // Published: the first ten points of the 3-dimensional sequence as printed in the notes that come with the
  // direction numbers of Joe & Kuo (recalled); the same points head the plain sequence in most textbooks.
  test('begin as printed in three dimensions', () => {
    const printed = [
      [0, 0, 0],
      [0.5, 0.5, 0.5],
      [0.75, 0.25, 0.25],
      [0.25, 0.75, 0.75],
      [0.375, 0.375, 0.625],
      [0.875, 0.875, 0.125],
      [0.625, 0.125, 0.875],
      [0.125, 0.625, 0.375],
      [0.1875, 0.3125, 0.9375],
      [0.6875, 0.8125, 0.4375],
    ];
    printed.forEach((point, index) => {
      expect([0, 1, 2].map((j) => plain(index, j, 3))).toEqual(point);
    });
  });

  // Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, set new-joe-kuo-6, dimensions 2 to 10 (recalled from the table).
  test('use the direction numbers of Joe & Kuo', () => {
    expect(DIRECTION_NUMBERS.slice(0, 9)).toEqual([
      [0, [1]],
      [1, [1, 3]],
      [1, [1, 3, 1]],
      [2, [1, 1, 1]],
      [1, [1, 1, 3, 3]],
      [4, [1, 3, 5, 13]],
      [2, [1, 1, 5, 5, 17]],
      [4, [1, 1, 5, 5, 5]],
      [7, [1, 1, 7, 11, 19]],
    ]);
  });
});
