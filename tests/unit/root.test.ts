import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bracket, crossing, middleOf, newtonWithin } from '../../src/model/numerics/root.ts';

const root = fc.double({ min: 1e-6, max: 1e6, noNaN: true });

describe('a root', () => {
  test('by bisection is bracketed to the last bit, whichever end is greater', () => {
    fc.assert(
      fc.property(root, (at) => {
        const up = bracket((x) => x < at, 0, 2 * at);
        expect(up.holds).toBeLessThan(at);
        expect(up.fails).toBeGreaterThanOrEqual(at);
        expect(up.fails / up.holds - 1).toBeLessThan(3e-16);
        const down = bracket((x) => x >= at, 2 * at, 0);
        expect([down.fails, down.holds]).toEqual([up.holds, up.fails]);
        expect(Math.abs(middleOf(up) / at - 1)).toBeLessThan(3e-16);
      }),
      { seed: 1 },
    );
  });

  test('by bisection of ratios needs few halvings over many decades, and stops where told to', () => {
    const tried: number[] = [];
    const test = (x: number) => {
      tried.push(x);
      return x < 3e-6;
    };
    const { holds, fails } = bracket(test, 1e-9, 1e3, { within: 0.01, byRatio: true });
    expect(holds).toBeLessThan(3e-6);
    expect(fails).toBeGreaterThanOrEqual(3e-6);
    expect(fails / holds).toBeLessThan(1.011);
    // log2(ln 1e12/0.01) = 11.4
    expect(tried).toHaveLength(12);
    expect(bracket(test, 1e-9, 1e3, { steps: 0 })).toEqual({ holds: 1e-9, fails: 1e3 });
  });

  test('by regula falsi and by Newton is the same to the 14th digit', () => {
    fc.assert(
      fc.property(root, (square) => {
        const high = 1 + square;
        const off = (x: number) => x * x - square;
        expect(Math.abs(crossing(off, 0, high) ** 2 / square - 1)).toBeLessThan(2e-13);
        const found = newtonWithin(off, (x) => 2 * x, 0, high, high, 1e-20);
        expect(Math.abs(found ** 2 / square - 1)).toBeLessThan(1e-13);
      }),
      { seed: 2 },
    );
  });

  test('by Newton stays in its bracket where the slope leads out of it', () => {
    const visited: number[] = [];
    const off = (x: number) => {
      visited.push(x);
      return Math.atan(x - 1);
    };
    const found = newtonWithin(off, (x) => 1 / (1 + (x - 1) ** 2), -50, 60, 40, 1e-14);
    expect(Math.abs(found - 1)).toBeLessThan(1e-12);
    expect(Math.min(...visited)).toBeGreaterThan(-50);
    expect(Math.max(...visited)).toBeLessThan(60);
  });
});
