import { describe, expect, test } from 'vitest';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import type { Hit } from '../../src/model/breakage/selection/law.ts';
import { example } from './examples.ts';

const hit = (speed: number): Hit => ({ speed, energy: speed ** 2 / 2 });

describe.each(Object.values(SELECTION_LAWS))('selection law $name', (law) => {
  const choice = example(law);
  test('is a probability, and never falls with the speed of the hit', () => {
    for (let size = 1e-7; size < 0.01; size *= 1.3) {
      let before = 0;
      for (const speed of [5, 20, 60, 80, 120, 180]) {
        const here = law.probability(choice, size, hit(speed));
        expect(here).toBeGreaterThanOrEqual(before);
        expect(here).toBeLessThanOrEqual(1);
        before = here;
      }
    }
  });
  test('never falls with size up to a millimetre', () => {
    let before = 0;
    for (let size = 1e-8; size < 1e-3; size *= 1.1) {
      const here = law.probability(choice, size, hit(80));
      expect(here).toBeGreaterThanOrEqual(before - 1e-15);
      before = here;
    }
  });
  test('breaks nothing below its grind limit, and something above', () => {
    const limit = law.grindLimit(choice, hit(80));
    expect(limit).toBeGreaterThanOrEqual(0);
    if (limit > 0) {
      expect(law.probability(choice, limit * 0.999, hit(80))).toBe(0);
      expect(law.probability(choice, limit * 1.02, hit(80))).toBeGreaterThan(0);
    } else expect(law.probability(choice, 1e-5, hit(80))).toBeGreaterThan(0);
  });
  test('a hit without speed breaks nothing', () => {
    expect(law.probability(choice, 5e-4, hit(1e-9))).toBeLessThan(1e-6);
  });
  test('says when it is used outside its source', () => {
    expect(law.outside(choice, hit(80))).toEqual([]);
    const beyond = law.outside(choice, hit(400));
    expect(beyond.length).toBeGreaterThan(0);
    for (const message of beyond) expect(message).not.toMatch(/NaN|undefined|Infinity/);
  });
});

test('the impact law warns above the speeds single particles were tested at', () => {
  const law = SELECTION_LAWS.impact!;
  expect(law.outside(example(law), hit(80))).toEqual([]);
  expect(law.outside(example(law), hit(250))).toHaveLength(1);
});
