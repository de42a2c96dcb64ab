import { expect, test } from 'vitest';
import type { CarriedOver } from '../../src/answers/scale/scale-keys.ts';
import { bandSentences, scaleNotes, scaleSentence } from '../../src/answers/scale/scale-words.ts';
import type { ScaledPoint } from '../../src/search/scale/scale.ts';

const BANDS = { x50: 0.26, x95: 0.3, wheelSpeed: 0.47, rotorSpeed: 0.2, rotorPower: 0.25 };
const point = (worst: number, air = 6000) => {
  const c = {
    wheelName: 'long-leaning',
    settings: { rotorSpeed: 50, wheelSpeed: 20, feedRate: 0.5 },
    air: { flow: air / 3600 },
    rotor: { motor: { power: 60e3 } },
  };
  return { case: c, solved: { case: c }, difference: { worst }, bands: BANDS } as unknown as ScaledPoint;
};
const carried = (most: ScaledPoint | undefined, stoppedBy: object, same = most) =>
  ({
    scenario: { spec: [] },
    other: { machine: { name: 'mill 600' } },
    scaled: { same, most, stoppedBy },
    taken: ['one', 'two'],
  }) as unknown as CarriedOver;

test('the answer names the machine, the rate, what limits it and the settings with their bands', () => {
  expect(scaleSentence(carried(point(0.004), { name: 'motor', use: 1 }))).toBe(
    'mill 600 makes the same product at up to 1800 kg/h, limited by motor: rotor 3000 rpm ± 20 %, wheel long leaning 1200 rpm ± 47 %, air 6000 m³/h.',
  );
});

test('a product that is only near says by how much, a mill that chokes says that', () => {
  expect(scaleSentence(carried(point(0.05), { name: 'choking', use: Number.POSITIVE_INFINITY }))).toMatch(
    /^mill 600 makes the nearest product \(different by 5 %\) at up to 1800 kg\/h, limited by choking: /,
  );
});

test('no rate within the limits says what is nearest', () => {
  expect(scaleSentence(carried(undefined, { name: 'outlet temperature', use: 1.2 }, point(0)))).toBe(
    'mill 600 does not make this product within its limits at any rate tried: at the nearest, outlet temperature is at 120 % of its limit.',
  );
  expect(
    scaleSentence(carried(undefined, { name: 'choking', use: Number.POSITIVE_INFINITY }, undefined)),
  ).toBe(
    'mill 600 does not make this product within its limits at any rate tried: at every rate tried the mill chokes.',
  );
});

test('bands are of settings as computed and of settings tuned', () => {
  expect(bandSentences(point(0))[0]).toBe(
    '95 % bands: at the computed settings, x50 ± 26 %, x95 ± 30 %; if tuned until the product matches, wheel speed ± 47 %, rotor speed ± 20 %, rotor power ± 25 %.',
  );
});

test.each([
  [6000, []],
  [9000, ['150 m³/h of air per installed kW; usual are 90 to 140: check the fan, or give --air']],
  [3000, ['50 m³/h of air per installed kW; usual are 90 to 140: check the fan, or give --air']],
])('air of %d m³/h for 60 kW', (air, notes) => {
  expect(scaleNotes(carried(point(0, air), { name: 'motor', use: 1 }))).toEqual([
    ...notes,
    '2 coefficients are taken over from the first machine, as the other has none of its own',
  ]);
});
