import { describe, expect, it } from 'vitest';
import { chiSquareLimit, chiSquareTail } from '../../src/trials/chi-square.ts';
import { mixingIndex } from '../../src/trials/mixing.ts';
import { reconcile } from '../../src/trials/reconcile.ts';
import { close } from '../close.ts';

describe('balances', () => {
  it('a splitter measured 100/61/36 with variances 4/1/1 (derived)', () => {
    const { values, statistic, freedom, probability } = reconcile([100, 61, 36], [4, 1, 1], [[1, -1, -1]]);
    [98, 61.5, 36.5].forEach((value, i) => {
      close(values[i]!, value, 1e-12);
    });
    close(statistic, 1.5, 1e-12);
    expect(freedom).toBe(1);
    close(probability, 0.2206714, 1e-6);
  });

  it('chi-square limits of the usual tables (NIST/SEMATECH e-Handbook 1.3.6.7.4, recalled)', () => {
    const TABLE = [
      [0.05, 1, 3.841],
      [0.05, 2, 5.991],
      [0.05, 10, 18.307],
      [0.01, 5, 15.086],
      [0.95, 10, 3.94],
    ] as const;
    for (const [tail, freedom, value] of TABLE) close(chiSquareLimit(tail, freedom), value, 3e-4);
    // two degrees of freedom: exp(−χ²/2), derived
    for (const value of [0.1, 1, 7, 40]) close(chiSquareTail(value, 2), Math.exp(-value / 2), 1e-12);
  });

  it('mixing index (Earle, Unit Operations in Food Processing, ch. 12)', () => {
    const found = mixingIndex([0.234, 0.104, 0.164, 0.196, 0.304, 0.076], 50, 0.15);
    close(found.unmixed, 0.1275, 1e-3);
    close(found.random, 0.00255, 1e-3);
    close(found.found, 0.00678, 1e-3);
    close(found.index, 0.966, 1e-3);
  });
});
