import { describe, expect, test } from 'vitest';
import { endWords } from '../../src/answers/limit-words.ts';
import { edgesText, keptText, toleranceOf, toleranceText } from '../../src/answers/margin-words.ts';
import { feedLimit } from '../../src/answers/reach.ts';
import { nearestOf, standingOf } from '../../src/answers/standing.ts';
import { wayOut, wayOutText } from '../../src/answers/way-out.ts';
import { withValue } from '../../src/scenario/operating-point.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { demo, requirement, requiring } from './cases.ts';

type Tried = readonly [name: string, set: readonly string[], spec: readonly string[]];

/** Cases in which different requirements limit, upward and downward. */
const CASES = [
  ['as in the file', [], []],
  ['a fast wheel, x50 near its limit', ['settings.wheelSpeed=2700 rpm'], []],
  ['the motor near its limit', ['settings.feedRate=450 kg/h', 'settings.wheelSpeed=2100 rpm'], []],
  ['a warm outlet', [], ['outletTemperature <= 36 degC', 'motorLoad <= 90 %']],
  ['few fines allowed', [], ['passing(10 um) <= 22 %', 'oversize(75 um) <= 6 %']],
] as const satisfies readonly Tried[];

async function made(set: readonly string[], spec: readonly string[]): Promise<Scenario> {
  const scenario = await demo(...set);
  return spec.length > 0 ? requiring(scenario, ...spec) : scenario;
}

function changed(scenario: Scenario, path: 'wheelSpeed' | 'rotorSpeed', by: number): Scenario {
  const { value, as } = scenario.settings[path];
  return withValue(scenario, path, value * (1 + by), as);
}

describe('how far a speed can go', () => {
  test.each<Tried>(CASES)(
    '%s: 0.9 of the change keeps the spec, 1.1 of it breaks what was named',
    async (_, set, spec) => {
      const scenario = await made(set, spec);
      expect(standingOf(scenario).meets).toBe(true);
      const { path, change, end } = toleranceOf(scenario)!;
      expect(standingOf(changed(scenario, path, 0.9 * change)).meets).toBe(true);
      const beyond = standingOf(changed(scenario, path, 1.1 * change));
      expect(beyond.meets).toBe(false);
      expect(nearestOf(beyond)).toBe(end.by);
      // the sentence says the same: read it as a reader would
      const said =
        /^(Wheel|Rotor) speed can (drop|rise) ([\d.]+) % before the product is out of spec \((.+) fails first\)\.$/.exec(
          toleranceText(scenario),
        )!;
      const sign = said[2] === 'drop' ? -1 : 1;
      expect(said[1]).toBe(path === 'wheelSpeed' ? 'Wheel' : 'Rotor');
      expect((sign * Number(said[3])) / 100).toBeCloseTo(change, change < 0.1 ? 2 : 1);
      expect(Math.sign(change)).toBe(sign);
      expect(said[4]).toBe(endWords(scenario, end));
    },
  );

  test('the highest feed: below it the spec holds, above it the requirement named fails', async () => {
    const scenario = await demo();
    const limit = feedLimit(scenario, 0.25)!;
    expect(standingOf(withValue(scenario, 'feedRate', 0.99 * limit.value)).meets).toBe(true);
    const above = standingOf(withValue(scenario, 'feedRate', 1.01 * limit.value));
    expect(above.meets).toBe(false);
    expect(nearestOf(above)).toBe(limit.by);
  });
});

describe('the margin kept below the highest feed', () => {
  test.each([
    [
      { feedRate: 297 / 3600, limit: { value: 330 / 3600, by: 1 } },
      'This keeps a 10 % margin on the feed rate; the limit itself is 330 kg/h, set by motor load.',
    ],
    [
      { feedRate: 400 / 3600, limit: { value: 413 / 3600, by: -1 }, because: 'requirement' },
      'The spec requires 400 kg/h, so the usual 10 % margin on the feed rate cannot be kept: 3.1 % is left; the limit itself is 413 kg/h, set by choking.',
    ],
    [
      { feedRate: 500 / 3600, limit: { value: 600 / 3600, by: -2 }, because: 'range' },
      '500 kg/h is the highest feed rate in the sweep; the limit is higher than 600 kg/h.',
    ],
    [
      { feedRate: 500 / 3600, limit: { value: 570 / 3600, by: 0 }, because: 'range' },
      '500 kg/h is the highest feed rate in the sweep; the limit itself is 570 kg/h, set by fineness, a margin of 12 %.',
    ],
  ] as const)('%#', async (kept, words) => {
    const scenario = requiring(await demo(), 'x95 <= 75 um', 'motorLoad <= 90 %');
    expect(keptText(scenario, kept)).toBe(words);
  });
});

test('a factor at the end of its swept range has no margin on that side, and that is said', () => {
  const wheel = { path: 'wheelSpeed', value: 3600, unit: 'rpm', end: 'highest' } as const;
  const height = { path: 'wheel.geometry.height', value: 40, unit: 'mm', end: 'lowest' } as const;
  expect(edgesText([wheel])).toBe(
    'Wheel speed 3600 rpm is the highest in the sweep: nothing beyond it was computed, so no margin is known on that side.',
  );
  expect(edgesText([wheel, height])).toBe(
    'Wheel speed 3600 rpm is the highest in the sweep and wheel height 40 mm is the lowest in the sweep: nothing beyond them was computed, so no margin is known on those sides.',
  );
});

describe('a way out', () => {
  test.each<readonly [string, readonly string[], readonly string[] | undefined]>([
    ['too coarse', ['settings.wheelSpeed=1500 rpm'], undefined],
    ['too fine', ['settings.wheelSpeed=4200 rpm'], undefined],
    ['too much feed', ['settings.feedRate=800 kg/h'], undefined],
    ['a motor too busy', [], ['motorLoad <= 50 %', 'passing(75 um) >= 90 %']],
  ])('%s: the smallest change meets the spec, nine tenths of it do not', async (_, set, spec) => {
    const start = await demo(...set);
    const scenario = spec ? requiring(start, ...spec) : start;
    expect(standingOf(scenario).meets).toBe(false);
    const way = wayOut(scenario);
    if (way.kind !== 'one') throw new Error(`expected one setting, got ${way.kind}`);
    const { path, from, to } = way.change;
    const at = (value: number) =>
      standingOf(withValue(scenario, path, value, path.endsWith('Speed') ? 'shaft' : undefined));
    expect(at(to).meets).toBe(true);
    expect(at(from + 0.9 * (to - from)).meets).toBe(false);
    expect(wayOutText(scenario)).toMatch(
      /^To meet the whole spec, change one setting: [a-z ]+ \d+ → \d+ (rpm|kg\/h|m³\/h) \([+−][\d.]+ %\)\.$/,
    );
  });

  test('where nothing helps, which requirement would have to give', async () => {
    const scenario = requiring(await demo(), 'passing(20 um) >= 95 %', 'motorLoad <= 60 %');
    const text = wayOutText(scenario);
    expect(text).toMatch(
      /^No speeds and feed rate of this machine and wheel meet the whole spec\. Relaxing one requirement, all others met: /,
    );
    expect(text).toMatch(/"95 % below 20 µm" could reach [\d.]+ %/);
    const reached = Number(/could reach ([\d.]+) %/.exec(text)![1]);
    expect(reached).toBeLessThan(95);
    expect(requirement('passing(20 um) >= 95 %').relation).toBe('>=');
  }, 60_000);
});
