import { describe, expect, test } from 'vitest';
import { SIEVES } from '../../src/model/psd/sieves.ts';

/** ASTM E11 counts openings down from 75 µm (No. 200) by the fourth root of two, rounded in the standard (recalled). */
const STEP = 2 ** 0.25;
const REFERENCE = 75e-6;
/** Finer sieves (25, 20 µm) leave the progression. */
const FINEST = 32e-6;

describe('sieve openings', () => {
  const openings = Object.entries(SIEVES)
    .map(([mesh, size]) => [Number(mesh), size] as const)
    .sort(([a], [b]) => a - b)
    .filter(([, size]) => size >= FINEST);
  test('each stands within 3 % of the progression, and no step of it is missing', () => {
    const steps = openings.map(([mesh, size]) => {
      const step = Math.log(size / REFERENCE) / Math.log(STEP);
      expect(Math.abs(size / (REFERENCE * STEP ** Math.round(step)) - 1), `No. ${mesh}`).toBeLessThan(0.03);
      return Math.round(step);
    });
    for (let i = 1; i < steps.length; i++) {
      expect(steps[i - 1]! - steps[i]!, `No. ${openings[i]![0]}`).toBe(1);
    }
  });
});
