import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decayed, lost, lostAtFirst, SHORT, VANISHED } from '../../src/model/numerics/tabled-exponential.ts';

// against the exponential and expm1 of the language's library
const value = fc.double({ min: -12, max: Math.log10(700), noNaN: true }).map((power) => 10 ** power);

it('decayed is e^(−v) to the last digits', () => {
  fc.assert(
    fc.property(value, (v) => {
      expect(Math.abs(decayed(v) / Math.exp(-v) - 1)).toBeLessThan(2e-15 * Math.max(1, v));
    }),
    { numRuns: 5000 },
  );
  expect(decayed(0)).toBe(1);
});

it('lost is 1 − e^(−v) without cancellation, also where its forms meet', () => {
  const close = (v: number): void => {
    expect(Math.abs(lost(v) / -Math.expm1(-v) - 1)).toBeLessThan(2e-14);
  };
  fc.assert(fc.property(value, close), { numRuns: 5000 });
  for (const v of [1e-300, SHORT, 1 / 16 - 1e-12, 1 / 16, 1 / 16 + 1e-12, VANISHED - 1e-6]) close(v);
  expect(lost(0)).toBe(0);
  expect([VANISHED, 1e9, Number.POSITIVE_INFINITY].map(lost)).toEqual([1, 1, 1]);
  expect(lost(Number.NaN)).toBeNaN();
});

it('the short series is exact up to its end', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-12, max: SHORT, noNaN: true }), (v) => {
      expect(Math.abs(lostAtFirst(v) / -Math.expm1(-v) - 1)).toBeLessThan(1e-15);
    }),
    { numRuns: 2000 },
  );
});
