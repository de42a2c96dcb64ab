import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { areaOf, stretchesOf } from '../../../../src/search/window/closed-curve.ts';
import type { Lattice } from '../../../../src/search/window/lattice.ts';
import { regionWhere } from '../../../../src/search/window/region.ts';
import { fieldOf } from './field.ts';

const lattice = (nx: number, ny: number): Lattice => ({
  x: Float64Array.from({ length: nx }, (_, i) => i / (nx - 1)),
  y: Float64Array.from({ length: ny }, (_, j) => j / (ny - 1)),
});

describe('region where every field is ≥ 0', () => {
  test('a triangle between two straight limits has its exact area and sharp corners', () => {
    // x + y ≤ 1.1 and y ≥ x/3: corners (0,0), (0.825,0.275), (0.1,1), (0,1); area by the shoelace formula, derived
    const plane = lattice(8, 7);
    const fields = [fieldOf(plane, (x, y) => 1.1 - x - y), fieldOf(plane, (x, y) => y - x / 3)];
    const loops = regionWhere(plane, fields);
    expect(loops).toHaveLength(1);
    expect(areaOf(loops)).toBeCloseTo((0 + (0.825 * 1 - 0.1 * 0.275) + 0.1) / 2, 12);
    const corner = loops[0]!.x.some((x, i) => Math.hypot(x - 0.825, loops[0]!.y[i]! - 0.275) < 1e-12);
    expect(corner).toBe(true);
  });

  test('each stretch of the edge names the limit that is zero along it', () => {
    const plane = lattice(9, 9);
    const limits = [(x: number, y: number) => 1.1 - x - y, (x: number, y: number) => y - x / 3];
    const loops = regionWhere(
      plane,
      limits.map((limit) => fieldOf(plane, limit)),
    );
    const stretches = loops.flatMap(stretchesOf);
    expect(stretches.map(({ by }) => by).sort()).toEqual([-1, 0, 1]);
    for (const { by, x, y } of stretches) {
      if (by < 0) continue;
      x.forEach((each, i) => {
        expect(Math.abs(limits[by]!(each, y[i]!))).toBeLessThan(1e-12);
      });
    }
  });

  test('the inside lies on the left of its edge, and a hole counts negative', () => {
    const plane = lattice(41, 41);
    const ring = [
      fieldOf(plane, (x, y) => 0.4 - Math.hypot(x - 0.5, y - 0.5)),
      fieldOf(plane, (x, y) => Math.hypot(x - 0.5, y - 0.5) - 0.2),
    ];
    const loops = regionWhere(plane, ring);
    expect(loops).toHaveLength(2);
    expect(areaOf(loops) / (Math.PI * (0.16 - 0.04))).toBeGreaterThan(0.99);
    expect(areaOf(loops) / (Math.PI * (0.16 - 0.04))).toBeLessThan(1.01);
  });

  test('a field and its negative share the plane between them', () => {
    const arbitraryField = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
      minLength: 30,
      maxLength: 30,
    });
    fc.assert(
      fc.property(arbitraryField, (values) => {
        const plane = lattice(6, 5);
        const field = Float64Array.from(values);
        const inside = areaOf(regionWhere(plane, [field]));
        const outside = areaOf(regionWhere(plane, [field.map((value) => -value)]));
        const zeros = values.filter((value) => value === 0).length;
        expect(inside + outside).toBeGreaterThan(1 - 1e-5);
        if (zeros === 0) expect(inside + outside).toBeLessThan(1 + 1e-5);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
