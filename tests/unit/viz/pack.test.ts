import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { packColumn, unpackColumn } from '../../../src/viz/report/compress-columns.ts';
import { deflate } from '../../../src/viz/write/deflate.ts';

const roundTrip = (values: Float64Array, options: Parameters<typeof packColumn>[1] = {}) => {
  const { scale, bytes } = packColumn(values, options);
  return unpackColumn(scale, bytes, options.runs);
};

describe('columns of a page', () => {
  test('come back to 1/4000 of their range, whatever their order', () => {
    const value = fc.double({ min: -50, max: 950, noNaN: true }).map((each) => Math.round(each * 1e6) / 1e6);
    const column = fc.array(value, { minLength: 2, maxLength: 80 });
    fc.assert(
      fc.property(column, fc.integer({ min: 0, max: 20 }), (list, stride) => {
        const values = Float64Array.from(list);
        const range = Math.max(...list) - Math.min(...list);
        const logarithmic = Math.min(...list) > 0 && Math.max(...list) / Math.min(...list) > 10;
        roundTrip(values, { stride }).forEach((back, i) => {
          const slack = logarithmic ? 4e-3 * values[i]! : range / 7900 + 1e-12;
          expect(Math.abs(back - values[i]!)).toBeLessThanOrEqual(slack);
        });
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  test('sizes over decades keep their relative precision', () => {
    const values = Float64Array.from({ length: 200 }, (_, i) => 2 * 1.04 ** i);
    for (const [i, back] of roundTrip(values).entries())
      expect(Math.abs(back / values[i]! - 1)).toBeLessThan(1.1e-3);
  });

  test('a value that does not exist comes back as NaN, masked or not', () => {
    const values = Float64Array.from([1, Number.NaN, 3, Number.NaN, 5]);
    const runs = (row: number) => row !== 1;
    for (const options of [{}, { runs }, { runs, stride: 2 }]) {
      const back = roundTrip(values, options);
      expect([...back].map(Number.isNaN)).toEqual([false, true, false, true, false]);
      expect(back[4]).toBe(5);
    }
  });

  test('a smooth grid takes less than half a byte a point', () => {
    const [nx, ny] = [53, 37];
    const values = Float64Array.from({ length: nx * ny * 17 }, (_, i) => {
      const [x, y, z] = [i % nx, Math.floor(i / nx) % ny, Math.floor(i / nx / ny)];
      return (3000 / (20 + x)) ** 1.2 * (50 / (20 + y)) * (1 + z / 40);
    });
    const { bytes } = packColumn(values, { stride: nx });
    expect((deflate(bytes).length * 0.75) / values.length).toBeLessThan(0.5);
  });
});
