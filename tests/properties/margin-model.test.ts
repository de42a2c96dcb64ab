import { describe, expect, test } from 'vitest';
import { heldAt, heldOf, marginModel } from '../../src/search/find/margin-model.ts';
import { seeded } from '../../src/trials/random.ts';

const SAMPLES = 50;
const LINES = 4;
const DIMENSIONS = 3;

describe('margins linear in a box', () => {
  test('lines left out as they hold in every corner change no count anywhere in it', () => {
    const random = seeded(4);
    const numbers = (count: number, scale: number): Float64Array =>
      Float64Array.from({ length: count }, () => scale * (2 * random() - 0.6));
    for (let round = 0; round < 20; round++) {
      const centre = Array.from({ length: DIMENSIONS }, random);
      const low = centre.map((value) => value - 0.1);
      const high = centre.map((value) => value + 0.2 * random());
      const margins = numbers(SAMPLES * LINES, 0.3);
      const slopes = Array.from({ length: DIMENSIONS }, () => numbers(SAMPLES * LINES, 2));
      const model = marginModel(centre, margins, slopes, LINES, low, high);
      expect(model.margins.length).toBeLessThan(SAMPLES * LINES);
      for (let k = 0; k < 20; k++) {
        const at = low.map((value, j) => value + random() * (high[j]! - value));
        const all = margins.map((value, i) =>
          at.reduce((sum, there, j) => sum + slopes[j]![i]! * (there - centre[j]!), value),
        );
        const told = heldAt(model, at);
        const counted = heldOf(all, LINES);
        expect(told.held).toBe(counted.held);
        expect(told.missed).toBeCloseTo(counted.missed, 10);
      }
    }
  });

  test('a sample misses by its worst line, and by 1 at most', () => {
    expect(heldOf(Float64Array.of(0.2, -0.3, -0.1, 0.1, 0, 0.5, -7, -2), 2)).toEqual({
      held: 1,
      missed: 0.3 + 0.1 + 1,
    });
  });
});
