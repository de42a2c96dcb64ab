import { describe, expect, test } from 'vitest';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';
import { close } from '../close.ts';
import { example } from './examples.ts';

/** z where T reaches a share, by bisection on the law itself. */
function sizeAt(passing: (z: number) => number, share: number): number {
  let [low, high] = [-20, 5];
  for (let step = 0; step < 100; step++) {
    const middle = (low + high) / 2;
    if (1 - passing(Math.exp(middle)) > share) high = middle;
    else low = middle;
  }
  return Math.exp((low + high) / 2);
}

describe.each(Object.values(EFFICIENCY_LAWS))('grade efficiency $name', (law) => {
  const choice = example(law);
  const [lowest, highest] = law.sharpnessRange;
  const sharpnesses = [lowest, 0.45, 0.6, 0.8, highest].filter((k) => k >= lowest && k <= highest);
  const at = (sharpness: number) => {
    const shape = law.shape(sharpness, choice);
    return (z: number) => law.passing(z, shape, choice);
  };
  test('the cut size has even chances, and κ = x25/x75 is what was asked', () => {
    for (const sharpness of sharpnesses) {
      const passing = at(sharpness);
      close(passing(1), 0.5, 1e-13);
      close(sizeAt(passing, 0.25) / sizeAt(passing, 0.75), sharpness, 1e-9);
    }
  });
  test('falls from all to none with size', () => {
    for (const sharpness of sharpnesses) {
      const passing = at(sharpness);
      let before = 1;
      for (let z = 1e-6; z < 1e4; z *= 1.1) {
        const here = passing(z);
        expect(here).toBeLessThanOrEqual(before + 1e-15);
        expect(here).toBeGreaterThanOrEqual(0);
        before = here;
      }
      expect(passing(1e-12)).toBeGreaterThan(0.98);
      expect(passing(1e6)).toBeLessThan(1e-3);
    }
  });
  test('a sharper wheel passes more below the cut and less above', () => {
    const [blunt, sharp] = [at(0.5), at(0.7)];
    for (const z of [0.2, 0.5, 0.9]) expect(sharp(z)).toBeGreaterThanOrEqual(blunt(z) - 1e-15);
    for (const z of [1.1, 2, 5]) expect(sharp(z)).toBeLessThanOrEqual(blunt(z) + 1e-15);
  });
  test('keeps its digits far above the cut', () => {
    if (law.table) return;
    const passing = at(0.6);
    const ratio = Math.log(passing(3)) / Math.log(passing(3.03));
    expect(passing(3)).toBeGreaterThan(0);
    expect(Number.isFinite(ratio)).toBe(true);
    expect(passing(3)).toBeGreaterThan(passing(3.03));
  });
  test('the fast fill of a geometric grid equals the law class by class', () => {
    if (!law.fillPassing) return;
    for (const sharpness of sharpnesses) {
      const shape = law.shape(sharpness, choice);
      const finer = new Float64Array(150).fill(Number.NaN);
      const coarser = new Float64Array(150).fill(Number.NaN);
      const logRatio = Math.LN2 / 8;
      const apart = 0.3 * logRatio;
      law.fillPassing(1e-3, logRatio, apart, shape, { finer, coarser }, 0, 100, 0);
      law.fillPassing(1e-3, logRatio, apart, shape, { finer, coarser }, 100, 150, 0);
      [...finer, ...coarser].forEach((value, at) => {
        const i = at < 150 ? at - 0.3 : at - 150 + 0.3;
        const wanted = law.passing(1e-3 * Math.exp(i * logRatio), shape, choice);
        expect(Math.abs(value - wanted)).toBeLessThan(1e-13);
        // rounding of z is raised to the shape by the law itself
        const rounding = 2e-14 + 2e-15 * shape;
        if (wanted > 1e-280) close(value, wanted, rounding * Math.max(1, -Math.log(wanted)));
        else expect(value).toBeLessThan(1e-279);
      });
    }
  });
});
