import { describe, expect, test } from 'vitest';
import { factorKind } from '../../src/answers/factor-kind.ts';
import { settingsText } from '../../src/answers/settings-words.ts';
import { withValue } from '../../src/scenario/operating-point.ts';
import { bestGoal, firstToRun, isEven, isTie } from '../../src/search/find/best-point.ts';
import { demo } from './cases.ts';

/** So many of a hundred samples meet the spec, the first ones. */
const meeting = (count: number, from = 0) =>
  Array.from({ length: 100 }, (_, k) => k >= from && k < from + count);

describe('the point to run first', () => {
  const point = (name: string, count: number, goal: number, margin = 0.1) => ({
    name,
    meets: meeting(count),
    goal,
    margin,
  });

  test('is the one with the highest probability', () => {
    expect(firstToRun([point('fast', 24, 489), point('likely', 44, 110)])!.name).toBe('likely');
  });

  test('within 2 percentage points of it the better goal decides, beyond them it does not', () => {
    expect(firstToRun([point('likely', 44, 110), point('better', 42, 200)])!.name).toBe('better');
    expect(firstToRun([point('likely', 44, 110), point('better', 41, 200)])!.name).toBe('likely');
  });

  test('of equal goals the one farthest from its limits', () => {
    expect(firstToRun([point('near', 40, 100, 0.01), point('far', 40, 100, 0.2)])!.name).toBe('far');
    expect(bestGoal([point('none', 40, Number.NaN), point('some', 0, -1)])!.name).toBe('some');
    expect(firstToRun([])).toBeUndefined();
  });

  test('two points are a tie where the samples cannot tell them apart and their goals are within 5 %', () => {
    const first = point('first', 40, 100);
    expect(isTie(point('near', 39, 95.1), first)).toBe(true);
    expect(isTie(point('near', 39, 104.9), first)).toBe(true);
    expect(isTie(point('slower', 39, 94.9), first)).toBe(false);
    expect(isTie(point('rarer', 20, 100), first)).toBe(false);
    expect(isTie(point('slower', 39, 81), first, 0.2)).toBe(true);
    expect(isTie(point('slower', 39, 79), first, 0.2)).toBe(false);
  });

  test('two points are even where the samples in which only one of them meets the spec do not tell', () => {
    const a = { meets: meeting(40) };
    expect(isEven(a, { meets: meeting(38) })).toBe(true);
    // 16 samples only in a, none only in b: two standard errors are 8
    expect(isEven(a, { meets: meeting(24) })).toBe(false);
    // 30 only in a and 24 only in b: 6 apart, two standard errors are 14.7
    expect(isEven(a, { meets: meeting(34, 30) })).toBe(true);
  });
});

describe('what was varied, to whoever runs the mill', () => {
  test.each([
    ['wheelSpeed', 'setting'],
    ['settings.feedRate', 'setting'],
    ['wheel', 'setting'],
    ['air.flow', 'setting'],
    ['wheel.geometry.height', 'design'],
    ['machine.rotor.geometry.gap', 'design'],
    ['wheel.coefficients.sharpness', 'property'],
    ['material.selection.friability', 'property'],
    ['feed.x50', 'property'],
    ['machine.loopTime', 'property'],
  ])('%s is a %s', (path, kind) => {
    expect(factorKind(path)).toBe(kind);
  });

  test('a wheel of another design is not called by the name of the wheel in the file', async () => {
    const file = await demo();
    const changes = [
      { path: 'wheel.geometry.height', value: 0.121 },
      { path: 'wheel.geometry.vanes', value: 18 },
      { path: 'rotorSpeed', value: 4082 / 60, as: 'shaft' },
      { path: 'air.flow', value: 1600 / 3600 },
    ] as const;
    const there = changes.reduce(
      (at, change) => withValue(at, change.path, change.value, 'as' in change ? change.as : undefined),
      file,
    );
    expect(settingsText(there, file, changes)).toBe(
      'a wheel like medium leaning, but with height 121 mm (60 mm in the file) and vanes 18 (24 in the file), at 2000 rpm, rotor 4082 rpm, 300 kg/h, with air flow 1600 m³/h (1500 m³/h in the file)',
    );
    const same = [{ path: 'wheel.geometry.height', value: 0.06 }];
    expect(settingsText(file, file, same)).toBe(
      'the medium leaning wheel at 2000 rpm, rotor 5730 rpm, 300 kg/h',
    );
  });
});
