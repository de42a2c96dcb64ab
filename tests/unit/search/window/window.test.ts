import { describe, expect, test } from 'vitest';
import type { Lattice } from '../../../../src/search/window/lattice.ts';
import { gridOf, latticeOf, sliceOf, valueAtPosition } from '../../../../src/search/window/levels.ts';
import { fillGaps, refineField, refineLattice } from '../../../../src/search/window/refine.ts';
import { CHOKE, operatingWindow, RIM } from '../../../../src/search/window/window.ts';
import { fieldOf } from './field.ts';

const axis = (from: number, to: number, steps: number) =>
  Float64Array.from({ length: steps }, (_, i) => from + ((to - from) * i) / (steps - 1));
const plane: Lattice = { x: axis(1000, 5000, 9), y: axis(4000, 7000, 7) };

describe('operating window', () => {
  // a made-up machine: finer with wheel speed, hotter with rotor speed, chokes in the corner
  const size = fieldOf(plane, (x, y) => (120 * (2000 / x) * 5000) / y);
  const fine = size.map((value) => 75 - value);
  const cool = fieldOf(plane, (_, y) => 6400 - y);
  const steady = fieldOf(plane, (x, y) => 1.5 - x / 3000 + (y - 4000) / 6000);
  const choked = (field: Float64Array) => field.map((value, n) => (steady[n]! < 0 ? Number.NaN : value));
  const window = operatingWindow(
    {
      lattice: plane,
      quantity: choked(size),
      logarithmic: true,
      limits: [
        {
          name: 'fine',
          margin: choked(fine),
          band: { lattice: plane, low: fine.map((m) => m - 5), high: fine.map((m) => m + 5) },
        },
        { name: 'cool', margin: choked(cool) },
      ],
      steady,
    },
    [40, 60, 80, 100],
  );

  test('limit lines lie where the formula puts them', () => {
    const line = window.limits.find(({ name }) => name === 'fine')!.lines[0]!;
    line.x.forEach((x, i) => {
      expect((x * line.y[i]!) / ((120 * 2000 * 5000) / 75)).toBeCloseTo(1, 2);
    });
    const flat = window.limits.find(({ name }) => name === 'cool')!.lines[0]!;
    for (const y of flat.y) expect(y / 6400).toBeCloseTo(1, 6);
  });

  test('the edge of the region names every limit active somewhere, and the rim', () => {
    expect(new Set(window.edge.map(({ limit }) => limit))).toEqual(new Set(['fine', 'cool', CHOKE, RIM]));
    expect(window.share).toBeGreaterThan(0.1);
    expect(window.share).toBeLessThan(0.5);
  });

  test('colour bands cover exactly the part that runs', () => {
    const area = (loops: readonly { x: readonly number[]; y: readonly number[] }[]) =>
      loops.reduce((sum, { x, y }) => {
        for (let i = 0; i < x.length; i++) {
          const n = (i + 1) % x.length;
          sum += (x[i]! * y[n]! - x[n]! * y[i]!) / 2;
        }
        return sum;
      }, 0);
    const shaded = window.bands.reduce((sum, { loops }) => sum + area(loops), 0);
    expect((shaded + area(window.choked)) / (4000 * 3000)).toBeCloseTo(1, 6);
  });

  test('a spread draws a band of that width about its line', () => {
    const band = window.limits.find(({ name }) => name === 'fine')!.band;
    const sizes = band.flatMap(({ x, y }) => x.map((each, i) => (120 * 2000 * 5000) / (each * y[i]!)));
    expect(Math.max(...sizes)).toBeGreaterThan(79);
    expect(Math.min(...sizes)).toBeLessThan(71);
  });

  test('a limit met nowhere says so and leaves no region', () => {
    const never = operatingWindow(
      {
        lattice: plane,
        quantity: size,
        logarithmic: true,
        limits: [{ name: 'no', margin: size.map(() => -1) }],
      },
      [50],
    );
    expect(never.limits[0]!.reach).toBe('nowhere');
    expect(never.meeting).toEqual([]);
    expect(never.share).toBe(0);
  });
});

describe('refining and filling', () => {
  test('passes through the given values and never overshoots a step', () => {
    const field = fieldOf(plane, (x) => (x > 2900 ? 1 : 0));
    const fine = refineLattice(plane, 5);
    const smooth = refineField(plane, field, 5);
    for (const value of smooth) {
      expect(value).toBeGreaterThanOrEqual(-1e-12);
      expect(value).toBeLessThanOrEqual(1 + 1e-12);
    }
    const width = plane.x.length;
    field.forEach((value, n) => {
      const [i, j] = [5 * (n % width), 5 * Math.floor(n / width)];
      expect([fine.x[i], fine.y[j]]).toEqual([plane.x[n % width], plane.y[Math.floor(n / width)]]);
      expect(smooth[j * fine.x.length + i]).toBe(value);
    });
  });

  test('a gap beside a straight field is filled straight on', () => {
    const field = fieldOf(plane, (x, y) => 2 * x - y);
    const holed = field.map((value, n) => (n % 9 > 6 ? Number.NaN : value));
    fillGaps(plane, holed).forEach((value, n) => {
      expect(Math.abs(value - field[n]!)).toBeLessThan(1e-6 * 6000);
    });
  });
});

describe('grid of a sweep', () => {
  const rows: { a: number; b: number; wheel: string; v: number }[] = [];
  for (const wheel of ['w1', 'w2'])
    for (const b of [1, 2, 4])
      for (const a of [10, 20, 30]) {
        rows.push({ a, b, wheel, v: a * b + (wheel === 'w2' ? 1000 : 0) });
      }
  const shuffled = rows.map((_, i) => rows[(i * 7) % rows.length]!);
  const factors = [
    { path: 'a', values: Float64Array.from(shuffled, ({ a }) => a) },
    { path: 'b', values: Float64Array.from(shuffled, ({ b }) => b) },
    { path: 'wheel', values: shuffled.map(({ wheel }) => wheel) },
  ];
  const column = Float64Array.from(shuffled, ({ v }) => v);
  const grid = gridOf(factors, shuffled.length)!;

  test('is found whatever the order of the points, and sliced on any two factors', () => {
    expect([...latticeOf(grid, 'a', 'b').y]).toEqual([1, 2, 4]);
    expect([...sliceOf(grid, column, 'a', 'b', { wheel: 'w2' })]).toEqual([
      1010, 1020, 1030, 1020, 1040, 1060, 1040, 1080, 1120,
    ]);
    expect([...sliceOf(grid, column, 'b', 'a', { wheel: 'w1' })]).toEqual([
      10, 20, 40, 20, 40, 80, 30, 60, 120,
    ]);
  });

  test('lies linearly between levels', () => {
    expect(valueAtPosition(grid, column, { a: 15, b: 3, wheel: 'w1' })).toBeCloseTo(45, 12);
  });

  test('scattered points are no grid', () => {
    const values = Float64Array.from({ length: 50 }, (_, i) => i * 1.7);
    const other = Float64Array.from({ length: 50 }, (_, i) => (i * 37) % 50);
    expect(
      gridOf(
        [
          { path: 'a', values },
          { path: 'b', values: other },
        ],
        50,
      ),
    ).toBeUndefined();
  });

  test('a point never run leaves a gap', () => {
    const some = gridOf(
      factors.map((f) => ({ ...f, values: f.values.slice(0, 17) as never })),
      17,
    )!;
    const missing = shuffled[17]!;
    expect(valueAtPosition(some, column, { a: missing.a, b: missing.b, wheel: missing.wheel })).toBeNaN();
  });
});
