import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  carriedCondition,
  carriedWords,
  MOST_CARRIED,
  rankingColumns,
} from '../../../src/answers/carried-points.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import type { Column } from '../../../src/sweep/study/column.ts';
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

describe('a sweep larger than a page carries', () => {
  const sides = [33, 33, 33];
  const count = 3 * 33 ** 3;
  const factor = (name: string): Column => ({
    name,
    role: 'factor',
    of: name,
    unit: '',
    symbol: '',
    meaning: '',
  });
  const columns = [{ ...factor('wheel'), names: ['a', 'b', 'c'] }, ...['x', 'y', 'z'].map(factor)];
  const place = (row: number, j: number) =>
    Math.floor(row / sides.slice(j + 1).reduce((n, side) => n * side, 1)) % sides[j]!;
  const values: Record<string, Float64Array> = {
    wheel: Float64Array.from({ length: count }, (_, row) => Math.floor(row / 33 ** 3)),
  };
  ['x', 'y', 'z'].forEach((name, j) => {
    values[name] = Float64Array.from({ length: count }, (_, row) => 0.1 + place(row, j) / 3);
  });

  test('gives every name and an even choice of the levels of every number, the ends among them', () => {
    const condition = carriedCondition({ count, values }, columns, 'grid')!;
    const chosen = condition
      .split(' AND ')
      .map((part) => [...part.matchAll(/'([\d.]+)'/g)].map(([, level]) => Number(level)));
    const points = 3 * chosen.reduce((product, levels) => product * levels.length, 1);
    expect(points).toBeLessThanOrEqual(MOST_CARRIED);
    expect(points).toBeGreaterThan(0.8 * MOST_CARRIED);
    for (const [j, levels] of chosen.entries()) {
      const all = [...new Set(values['xyz'[j]!]!)];
      expect(levels[0]).toBe(all[0]);
      expect(levels.at(-1)).toBe(all.at(-1));
      expect(levels.every((level) => all.includes(level))).toBe(true);
      // no two neighbours are more than twice as far apart as on average
      const steps = levels.slice(1).map((level, i) => level - levels[i]!);
      expect(Math.max(...steps)).toBeLessThan((2 * (all.at(-1)! - all[0]!)) / (levels.length - 1) + 1e-9);
    }
    expect(condition).not.toContain('"wheel"');
  });

  test('gives the first points of any other design, and everything that fits', () => {
    expect(carriedCondition({ count, values }, columns, 'sobol')).toBe(`"index" < ${MOST_CARRIED}`);
    expect(carriedCondition({ count: MOST_CARRIED, values }, columns, 'grid')).toBeUndefined();
    expect(carriedWords(35_937, 1_009_899, 'grid').replace(/\u202f/g, ' ')).toMatch(
      /drawn from 35 937 of 1 009 899 points.*recommendation is of all points, and all are in the store/,
    );
  });

  test('ranks by factors, margins and what the goal names, and leaves the rest in the store', () => {
    const of = (role: Column['role'], name: string): Column => ({ ...factor(name), role });
    const stored = [
      ...columns,
      of('margin', 'm'),
      of('reason', 'r'),
      of('quantity', 'x10'),
      of('quantity', 'specificEnergy'),
    ];
    const goal = {
      text: '',
      sense: 'minimise',
      expression: { kind: 'quantity', name: 'specificEnergy' },
    } as const;
    const kept = rankingColumns(stored, { goal } as unknown as Scenario).map(({ name }) => name);
    expect(kept).toEqual(['wheel', 'x', 'y', 'z', 'm', 'r', 'specificEnergy']);
  });

  test('takes less than 800 kB with fifty quantities, so that a report stays below 4 MB', () => {
    const side = Math.floor((MOST_CARRIED / 3) ** (1 / 3));
    const length = 3 * side ** 3;
    const column = (k: number) =>
      Float64Array.from({ length }, (_, row) => {
        const [a, b, c] = [row % side, Math.floor(row / side) % side, Math.floor(row / side ** 2) % side].map(
          (i) => i / side,
        );
        return Math.exp((1 + k / 50) * a! + b! * c!) * (1 + 0.2 * Math.sin(5 * b! + k));
      });
    const bytes = Array.from(
      { length: 50 },
      (_, k) => deflate(packColumn(column(k), { stride: side }).bytes).length,
    );
    expect(bytes.reduce((sum, each) => sum + each, 0)).toBeLessThan(800_000);
  });
});
