import { expect, test } from 'vitest';
import { ladderView } from '../../src/answers/feed-ladder.ts';
import { limitingFineness, limitingQuantity } from '../../src/answers/limiting-quantity.ts';
import { swayView } from '../../src/answers/one-at-a-time.ts';
import type { Standing } from '../../src/answers/standing.ts';
import { quantityMeasure } from '../../src/answers/words.ts';
import { demo, requiring } from './cases.ts';

const standing = (...relative: number[]) => ({ relative }) as unknown as Standing;

test.each([
  ['nearest its limit', ['passing(75 um) >= 95 %', 'x50 >= 20 um'], [0.4, 0.1], 'x50'],
  ['missed worst', ['passing(75 um) >= 95 %', 'motorLoad <= 90 %'], [-3, 0.1], 'passing(75 um)'],
  ['the first of two alike', ['x90 <= 60 um', 'x50 >= 20 um'], [0.1, 0.1], 'x90'],
  ['a setting is moved by no coefficient', ['feedRate >= 400 kg/h', 'x90 <= 60 um'], [-1, 0.5], 'x90'],
  ['a difference is no single quantity', ['passing(75 um) - passing(10 um) >= 80 %'], [-1], 'x95'],
  ['nothing is required', [], [], 'x95'],
])('what limits: %s', async (_, texts, relative, quantity) => {
  expect(limitingQuantity(requiring(await demo(), ...texts), standing(...relative))).toBe(quantity);
});

test.each([
  [
    ['passing(75 um) >= 95 %', 'passing(10 um) <= 25 %', 'motorLoad <= 90 %'],
    [0.1, 0.5, 0.01],
    'passing(10 um)',
  ],
  [['x97 <= 80 um', 'oversize(75 um) <= 5 %'], [0.5, 0.2], 'oversize(75 um)'],
  [['passing(75 um) >= 95 %', 'x50 >= 20 um'], [0.1, 0.2], 'x95'],
])('the fineness a ladder shows: %s', async (texts, relative, quantity) => {
  expect(limitingFineness(requiring(await demo(), ...texts), standing(...relative))).toBe(quantity);
});

test('the ladder and the coefficients one at a time follow the requirement that limits', async () => {
  const scenario = requiring(await demo(), 'passing(75 um) >= 80 %', 'passing(10 um) <= 23 %');
  expect(limitingQuantity(scenario)).toBe('passing(10 um)');
  const { measure, centre, caption } = swayView(scenario);
  expect(measure).toEqual({ name: 'share finer than 10 µm', unit: '%' });
  expect(centre / 100).toBeCloseTo(0.215, 1);
  expect(caption).toContain('about share finer than 10 µm ');
  const [first, second] = ladderView(scenario).rungs;
  expect([first!.measure.name, second!.measure.name]).toEqual(['share finer than 10 µm', 'motor load']);
  expect(first!.limits).toEqual([
    { at: expect.closeTo(23, 9), words: 'at most 23 % below 10 µm', side: 'above' },
  ]);
  expect(quantityMeasure('x50')).toEqual({ name: 'x50', unit: 'µm' });
});
