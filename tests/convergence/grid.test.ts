import { describe, expect, test } from 'vitest';
import type { Case } from '../../src/model/case.ts';
import { sizeAt } from '../../src/model/psd/curve.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { spreadOfSettings } from '../bench/steady.ts';
import { changed } from '../cases.ts';

const SHARES = [0.1, 0.5, 0.9, 0.95, 0.97, 0.99];

function percentiles(c: Case, classesPerOctave: number): number[] | undefined {
  const point = solvePoint(changed(c, { loop: { classesPerOctave } }), { choke: false });
  return point.status === 'steady' ? SHARES.map((share) => sizeAt(point.curve, share)) : undefined;
}

describe('grid convergence (eq. S1)', () => {
  test('8 classes per octave are within 0.3 % of 64 on x10 to x99 over 200 settings; the order is two', () => {
    let compared = 0;
    const worst = { 8: 0, 16: 0 };
    const mean = { 8: 0, 16: 0 };
    for (const c of spreadOfSettings(300, 5)) {
      if (compared === 200) break;
      const fine = percentiles(c, 64);
      const eight = percentiles(c, 8);
      const sixteen = percentiles(c, 16);
      if (!fine || !eight || !sixteen) continue;
      compared++;
      for (const [k, values] of [
        [8, eight],
        [16, sixteen],
      ] as const) {
        values.forEach((value, i) => {
          const error = Math.abs(value / fine[i]! - 1);
          worst[k] = Math.max(worst[k], error);
          mean[k] += error / (200 * SHARES.length);
        });
      }
    }
    const order = Math.log2(mean[8] / mean[16]);
    console.info(
      `grid: ${compared} settings, worst error ${(100 * worst[8]).toFixed(3)} % at 8, ${(100 * worst[16]).toFixed(3)} % at 16 classes per octave; order ${order.toFixed(2)}`,
    );
    expect(compared).toBe(200);
    expect(worst[8]).toBeLessThan(3e-3);
    expect(order).toBeGreaterThan(1.5);
  });
});
