import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { fragmentMatrix } from '../../src/model/breakage/matrix.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import { componentFeed, FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';
import { close } from '../close.ts';
import { choiceOf } from './law-choices.ts';

const SEED = { seed: 20240917 };
const between = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

describe.each(Object.values(FEED_LAWS))('feed law $name, any parameters', (law) => {
  test('rises with size, ends at its top, and fills the classes with all of the mass', () => {
    fc.assert(
      fc.property(choiceOf(law), between(1e-8, 1), between(1, 100), (choice, size, factor) => {
        const low = law.undersize(choice, size);
        const high = law.undersize(choice, size * factor);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeGreaterThanOrEqual(low - 1e-15);
        expect(high).toBeLessThanOrEqual(1 + 1e-15);
        const top = law.top(choice);
        expect(1 - law.undersize(choice, top * (1 + 1e-12))).toBeLessThan(1.01e-6);
        if (!(top < 1e3)) return;
        const feed = componentFeed(buildGrid({ smallest: 1e-7, top, classesPerOctave: 8 }), choice);
        expect(Math.min(...feed)).toBeGreaterThanOrEqual(0);
        close(
          feed.reduce((sum, share) => sum + share, 0),
          1,
          1e-13,
        );
      }),
      { ...SEED, numRuns: 150 },
    );
  });
});

describe.each(Object.values(SELECTION_LAWS))('selection law $name, any parameters', (law) => {
  test('is a probability that does not fall with speed, and is none below the grind limit', () => {
    fc.assert(
      fc.property(
        choiceOf(law),
        between(1e-7, 1e-2),
        between(1, 150),
        between(1, 3),
        (choice, size, speed, factor) => {
          const hit = (v: number) => ({ speed: v, energy: v ** 2 / 2 });
          const slow = law.probability(choice, size, hit(speed));
          const fast = law.probability(choice, size, hit(speed * factor));
          expect(slow).toBeGreaterThanOrEqual(0);
          expect(fast).toBeGreaterThanOrEqual(slow);
          expect(fast).toBeLessThanOrEqual(1);
          const limit = law.grindLimit(choice, hit(speed));
          expect(limit).toBeGreaterThanOrEqual(0);
          if (limit > 0 && Number.isFinite(limit))
            expect(law.probability(choice, limit * (1 - 1e-9), hit(speed))).toBeLessThan(1e-15);
          for (const message of law.outside(choice, hit(speed)))
            expect(message).not.toMatch(/NaN|undefined|Infinity/);
        },
      ),
      { ...SEED, numRuns: 400 },
    );
  });
});

describe.each(Object.values(FRAGMENT_LAWS))('fragment law $name, any parameters', (law) => {
  test('B rises to 1 at the parent', () => {
    fc.assert(
      fc.property(
        choiceOf(law),
        between(1e-6, 1e-2),
        between(1e-5, 1),
        between(1e-3, 1),
        (choice, parent, ratio, further) => {
          const fine = law.undersize(choice, parent * ratio * further, parent);
          const coarse = law.undersize(choice, parent * ratio, parent);
          expect(fine).toBeGreaterThanOrEqual(0);
          expect(coarse).toBeGreaterThanOrEqual(fine * (1 - 1e-13));
          expect(coarse).toBeLessThanOrEqual(1 + 1e-13);
          expect(law.undersize(choice, parent, parent)).toBe(1);
        },
      ),
      { ...SEED, numRuns: 400 },
    );
  });
  test('class to class: every parent is handed on whole, downwards only, and the sum of products is B', () => {
    fc.assert(
      fc.property(choiceOf(law), fc.integer({ min: 4, max: 12 }), (choice, classesPerOctave) => {
        const grid = buildGrid({ smallest: 1e-6, top: 1e-3, classesPerOctave });
        const packed = fragmentMatrix(grid, choice);
        const terms = law.terms?.(choice) ?? [];
        for (let j = 0; j < grid.classes; j += 7) {
          const row = packed.subarray((j * (j + 1)) / 2, ((j + 1) * (j + 2)) / 2);
          expect(Math.min(...row)).toBeGreaterThanOrEqual(-1e-15);
          close(
            row.reduce((sum, share) => sum + share, 0),
            1,
            1e-13,
          );
          if (terms.length === 0 || j === 0) continue;
          const sum = terms.reduce(
            (total, { ofFragment, ofParent }) =>
              total + ofFragment(grid.edges[j]!) * ofParent(grid.sizes[j]!),
            0,
          );
          close(sum, law.undersize(choice, grid.edges[j]!, grid.sizes[j]!), 1e-12);
        }
      }),
      { ...SEED, numRuns: 40 },
    );
  });
});

describe.each(Object.values(EFFICIENCY_LAWS))('grade efficiency $name, any sharpness', (law) => {
  const [lowest, highest] = law.sharpnessRange;
  test('falls with size through one half at the cut, with the sharpness asked for', () => {
    fc.assert(
      fc.property(
        law.table ? fc.constant({ law: law.name, points: law.table.typical }) : choiceOf(law),
        fc.double({ min: lowest, max: highest, noNaN: true }),
        between(1e-4, 1e3),
        between(1, 10),
        (choice, sharpness, z, factor) => {
          const shape = law.shape(sharpness, choice);
          const here = law.passing(z, shape, choice);
          const further = law.passing(z * factor, shape, choice);
          expect(here).toBeLessThanOrEqual(1);
          expect(further).toBeGreaterThanOrEqual(0);
          expect(further).toBeLessThanOrEqual(here + 1e-15);
          close(law.passing(1, shape, choice), 0.5, 1e-13);
          // κ z75 = z25: the law is asked at both quartiles, found from one another
          const quartile = sizeWhere((at) => law.passing(at, shape, choice), 0.25);
          close(law.passing(quartile * sharpness, shape, choice), 0.75, 1e-7);
        },
      ),
      { ...SEED, numRuns: 150 },
    );
  });
});

/** z at which a falling curve reaches a value above the cut, by bisection. */
function sizeWhere(passing: (z: number) => number, value: number): number {
  let [low, high] = [0, 20];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (passing(Math.exp(middle)) > value) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
