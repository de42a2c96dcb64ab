import { beforeAll, describe, expect, test } from 'vitest';
import { factorKind } from '../../src/answers/factor-kind.ts';
import { missesOf, standingAt } from '../../src/answers/standing.ts';
import { failureOf, verdictOf } from '../../src/answers/verdict.ts';
import {
  amountText,
  chokedText,
  feedThatRuns,
  missesText,
  nearestText,
  oddsText,
  openingOf,
  pointVerdict,
} from '../../src/answers/verdict-words.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { scaleOfLimit } from '../../src/scenario/outcome/relative-margin.ts';
import { type Point, solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { demo, requirement, requiring } from './cases.ts';

let base: Scenario;
beforeAll(async () => {
  base = await demo();
});

describe('how far an answer can be trusted', () => {
  const calibrated = (calibration: Readonly<Record<string, unknown>>) =>
    openingOf({
      ...base,
      calibration: { of: { materials: ['salt'], machine: 'mill B' }, ...calibration },
    } as Scenario);
  test.each([
    ['no trials named', {}, 'Calibrated:'],
    ['by name', { trials: ['A', 'B'] }, 'Calibrated on A and B:'],
    ['by an entry each', { trials: [{ name: 'A' }, 7] }, 'Calibrated on A and 7:'],
    ['null is no entry', { trials: [null] }, 'Calibrated on null:'],
    ['no list', { trials: 'A' }, 'Calibrated:'],
    ['24 signs', { trials: ['abcdefghijklmnopqrstuvwx'] }, 'Calibrated on abcdefghijklmnopqrstuvwx:'],
    ['25 signs', { trials: ['abcdefghijklmnopqrstuvwxy'] }, 'Calibrated on abcdefghijklmnopqrstuvw…:'],
    [
      'a fit that does not fit',
      { trials: ['A'], fit: { lackOfFit: true } },
      'The calibration does not fit its own trials within the measuring errors: its bands are wider for it. Calibrated on A, without a good fit:',
    ],
    [
      'of another material',
      { trials: ['A'], takenUp: { material: false } },
      'The calibration is of salt, not of erythritol: only its coefficients of the machine are used, those of the material are not calibrated. Calibrated in part (the machine) on A:',
    ],
  ])('%s', (_, calibration, words) => expect(calibrated(calibration)).toBe(words));

  test('nothing of it is used, or there is none', () => {
    expect(calibrated({ trials: ['A'], takenUp: { material: false, machine: false } })).toMatch(
      /nothing of it is used\. Uncalibrated estimate, for planning a first trial:$/,
    );
    expect(openingOf(base)).toBe('Uncalibrated estimate, for planning a first trial:');
    expect(openingOf({ ...base, calibration: {} } as Scenario)).toBe('Calibrated:');
  });
});

describe('a mill that chokes', () => {
  const choked = (feedAtChoke: number) =>
    ({
      status: 'choked',
      state: { status: 'choked', reason: 'load', message: 'too much powder', feedAtChoke },
    }) as unknown as Point;
  test('misses everything by no amount, and says up to which feed it runs', () => {
    const scenario = requiring(base, 'x50 >= 20 um', 'motorLoad <= 90 %');
    const standing = standingAt(scenario, choked(0.1));
    expect(standing).toEqual({
      point: choked(0.1),
      relative: [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY],
      met: [false, false],
      meets: false,
    });
    expect(missesOf(standing)).toEqual([]);
    const words = 'the mill chokes (too much powder); at these settings it runs up to about 360 kg/h';
    expect(chokedText(standing)).toBe(words);
    expect(pointVerdict(scenario, standing)).toBe(words);
    expect(pointVerdict({ spec: [] }, standing)).toBe(words);
    expect(chokedText({ point: choked(0) })).toBe(
      'the mill chokes (too much powder); at these settings it runs at no feed rate',
    );
    expect(feedThatRuns(0)).toBe('at these settings it runs at no feed rate');
    const odds = { samples: 2, meets: [true, false], choked: 1, lines: [] };
    expect(verdictOf(scenario, standing, odds)).toEqual({
      meets: false,
      probability: 0.5,
      chokes: 0.5,
      nearest: null,
      fails: [
        { text: 'x50 >= 20 um', by: null, unit: 'µm' },
        { text: 'motorLoad <= 90 %', by: null, unit: '%' },
      ],
    });
    const miss = { kind: 'requirement', place: 1, relative: -1 } as const;
    expect(failureOf(scenario.spec, standing, miss)).toEqual({
      text: 'motorLoad <= 90 %',
      by: null,
      unit: '%',
    });
  });
  test('a mill that runs has no such words', () => {
    const standing = standingAt(base, solvePoint(toCase(base)));
    expect(chokedText(standing)).toBe('');
    expect(pointVerdict({ spec: [] }, standing)).toBe('');
    expect(pointVerdict(base, standing)).toBe(`it meets the whole spec, and ${nearestText(base, standing)}`);
  });
});

test('of a machine too weak the motor, and of a requirement without a value that it has none', () => {
  const point = solvePoint(toCase(base)) as Point & { status: 'steady' };
  const { conditions } = point.state;
  const weak = {
    ...point,
    state: { ...point.state, conditions: { ...conditions, availablePower: conditions.rotorPower / 1.25 } },
  };
  // no plant is given, so its quantities have no value
  const scenario = requiring(base, 'passing(75 um) >= 99 %', 'dewMargin >= 10 K');
  const standing = standingAt(scenario, weak);
  const misses = missesOf(standing);
  expect(misses.map((miss) => (miss.kind === 'machine' ? miss.excess.name : miss.place))).toEqual([
    1,
    0,
    'rotor power',
  ]);
  expect(misses.at(-1)!.relative).toBeCloseTo(-0.25, 9);
  const by = (conditions.rotorPower * (1 - 1 / 1.25)) / 1000;
  expect(missesText(scenario, standing)).toMatch(
    new RegExp(
      `^"dew margin at least 10 K", which has no value here, "99 % below 75 µm" by [\\d.]+ percentage points and the highest rotor power by ${Number(by.toPrecision(2))} kW$`,
    ),
  );
});

test.each([
  [6.52, '%', '6.5 percentage points'],
  [1.004, '%', '1 percentage point'],
  [10, '%', '10 percentage points'],
  [30, 'kg/h', '30 kg/h'],
  [1, 'kg/h', '1 kg/h'],
  [0.125, '', '0.13'],
])('an amount of %d %s', (by, unit, words) => expect(amountText(by, unit)).toBe(words));

test('how many samples meet the spec, assumed or from a calibration', () => {
  const odds = {
    samples: 200,
    meets: [...Array(56).fill(true), ...Array(144).fill(false)],
    choked: 6,
    lines: [],
  };
  expect(oddsText({}, odds)).toBe('of 200 plausible coefficient sets 28 % meet the whole spec and 3 % choke');
  expect(oddsText({ calibration: {} }, odds)).toBe(
    'of 200 samples from the calibration 28 % meet the whole spec and 3 % choke',
  );
});

describe('the scale of a limit', () => {
  test.each<readonly [string, number, number | undefined]>([
    ['passing(75 um) - passing(10 um) >= 80 %', 0.8, 0.2],
    ['-passing(75 um) <= -95 %', -0.95, 1e-3],
    ['passing(75 um) * passing(10 um) >= 80 %', 0.8, 0.8],
    ['passing(75 um) / oversize(75 um) >= 19', 19, 19],
    ['passing(75 um) + motorLoad <= 180 %', 1.8, 1.8],
    ['passing(75 um) >= motorLoad', 0.6, 0.6],
    ['passes >= 0', 0, 1],
    ['motorLoad >= 0 %', 0, 1],
    ['x50 >= 0 um', 0, undefined],
    ['outletTemperature <= 10 degC', 283.15, 10],
  ])('%s', (text, limit, scale) => {
    const found = scaleOfLimit(requirement(text), limit, 293.15);
    if (scale === undefined) expect(found).toBeUndefined();
    else expect(found).toBeCloseTo(scale, 9);
  });
});

test('a path inside a file keeps its kind with settings. before it', () => {
  expect(factorKind('settings.feedRate')).toBe('setting');
  expect(factorKind('machine.settings.feedRate')).toBe('design');
});
