import { describe, expect, test } from 'vitest';
import { componentFeed, FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { example } from './examples.ts';

describe.each(Object.values(FEED_LAWS))('feed law $name', (law) => {
  const choice = example(law);
  const top = law.top(choice);
  test('rises from nothing to everything, never falls', () => {
    let before = 0;
    for (let size = 1e-9; size < 10; size *= 1.05) {
      const here = law.undersize(choice, size);
      expect(here).toBeGreaterThanOrEqual(before - 1e-15);
      expect(here).toBeLessThanOrEqual(1 + 1e-15);
      before = here;
    }
    expect(law.undersize(choice, 1e-12)).toBeLessThan(1e-4);
  });
  test('leaves less than 1e-6 above its top', () => {
    expect(1 - law.undersize(choice, top * (1 + 1e-12))).toBeLessThan(1.01e-6);
    expect(top).toBeGreaterThan(0);
  });
  test('fills the classes with exactly all of the mass', () => {
    const feed = componentFeed(buildGrid({ smallest: 1e-7, top, classesPerOctave: 8 }), choice);
    let sum = 0;
    for (const share of feed) {
      expect(share).toBeGreaterThanOrEqual(0);
      sum += share;
    }
    expect(Math.abs(sum - 1)).toBeLessThan(1e-14);
  });
});

describe('classes', () => {
  test('one class may hold the whole feed', () => {
    const feed = componentFeed(buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 }), {
      law: 'gaudin-schuhmann',
      top: 1e-9,
      exponent: 1,
    });
    expect(feed[0]).toBe(1);
  });
});
