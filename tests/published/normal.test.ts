import { describe, expect, test } from 'vitest';
import { normalCumulative } from '../../src/model/numerics/normal.ts';
import { normalDeviate } from '../../src/model/psd/feed/percentiles.ts';
import { close } from '../close.ts';

/** Φ(z), mpmath 1.3 with 30 digits (its `ncdf`); Φ(1) and Φ(−3) also stand in Abramowitz & Stegun, table 26.1. */
const VALUES = [
  [-37, 5.725571222524577e-300],
  [-10, 7.619853024160525e-24],
  [-6, 9.865876450376981e-10],
  [-3, 0.0013498980316300946],
  [-2.5, 0.006209665325776135],
  [-2.4999, 0.00621141837494459],
  [-1, 0.15865525393145705],
  [0.5, 0.6914624612740131],
  [1, 0.8413447460685429],
  [2.6, 0.9953388119762813],
  [5, 0.9999997133484281],
] as const;

describe('normal distribution', () => {
  test.each(VALUES)('Φ(%d)', (z, wanted) => {
    close(normalCumulative(z), wanted, z < -30 ? 1e-13 : 2e-14);
  });
  test('ends', () => {
    expect(normalCumulative(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCumulative(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalCumulative(0)).toBe(0.5);
  });
  test('the deviate inverts it', () => {
    for (const z of [-5, -1.2815515655446004, 0.3, 2, 4]) {
      expect(Math.abs(normalDeviate(normalCumulative(z)) - z)).toBeLessThan(z > 3 ? 1e-11 : 1e-13);
    }
  });
});
