import { describe, expect, test } from 'vitest';
import { asInFile } from '../../src/answers/recommend.ts';
import { ADD_A_SPEC, answerOf } from '../../src/answers/report-answer.ts';
import { missesOf, nearestOf, standingOf } from '../../src/answers/standing.ts';
import { missesText, nearestText, pointVerdict } from '../../src/answers/verdict-words.ts';
import { demo, requiring } from './cases.ts';

describe('the verdict on a point', () => {
  test('the nearest requirement is the one with the smallest relative margin, wherever it stands', () => {
    expect(nearestOf({ relative: [0.4, 0.02, 0.3] })).toBe(1);
    expect(nearestOf({ relative: [-0.1, 0.02, -0.3] })).toBe(2);
    expect(nearestOf({ relative: [] })).toBe(-1);
  });

  test('all that fails is named, worst first, with its unit', async () => {
    const scenario = requiring(
      await demo(),
      'x50 >= 31 um',
      'motorLoad <= 30 %',
      'passing(75 um) >= 97 %',
      'outletTemperature <= 50 degC',
    );
    const standing = standingOf(scenario);
    // x50 30.83 of 31 µm: 0.6 %; motor load 59 of 30 %: 97 %; 96.06 of 97 % with 3 % allowed: 31 %
    expect(
      missesOf(standing).map((miss) => (miss.kind === 'requirement' ? miss.place : miss.excess.name)),
    ).toEqual([1, 2, 0]);
    expect(missesText(scenario, standing)).toMatch(
      /^"motor load at most 30 %" by 29 percentage points, "97 % below 75 µm" by 0\.9\d? percentage points and "x50 at least 31 µm" by 0\.1\d µm$/,
    );
    expect(pointVerdict(scenario, standing)).toBe(`it misses ${missesText(scenario, standing)}`);
  });

  test('where all are met, the nearest is named with its relative margin', async () => {
    const scenario = requiring(
      await demo(),
      'motorLoad <= 60 %',
      'outletTemperature <= 50 degC',
      'x50 >= 20 um',
    );
    const standing = standingOf(scenario);
    const margin = Number((100 * standing.relative[0]!).toPrecision(2));
    expect(margin).toBeGreaterThan(1);
    expect(margin).toBeLessThan(2.2);
    expect(nearestText(scenario, standing)).toBe(
      `"motor load at most 60 %" is nearest its limit (relative margin ${margin} %)`,
    );
    expect(pointVerdict(scenario, standing)).toBe(
      `it meets the whole spec, and "motor load at most 60 %" is nearest its limit (relative margin ${margin} %)`,
    );
  });

  test('a shaft that turns too fast or a motor too weak meets no spec, and is named', async () => {
    const fast = requiring(
      await demo('settings.wheelSpeed=6600 rpm', 'settings.feedRate=20 kg/h'),
      'x50 >= 1 um',
    );
    const overspeed = standingOf(fast);
    expect(overspeed.meets).toBe(false);
    expect(missesText(fast, overspeed)).toBe('the highest wheel speed by 600 rpm');
    const weak = requiring(await demo('machine.rotor.motor.power=6 kW'), 'x50 >= 1 um');
    const standing = standingOf(weak);
    expect(standing.meets).toBe(false);
    expect(missesText(weak, standing)).toMatch(/^the highest rotor power by 2\.9 kW$/);
  });

  test('choked: why, and the feed that would run', async () => {
    const scenario = await demo('settings.feedRate=900 kg/h');
    const { sentence, verdict, second } = answerOf(asInFile(scenario), scenario);
    expect(sentence).toMatch(
      /^the medium leaning wheel at 1500 rpm, rotor 5730 rpm, 900 kg\/h: the mill chokes \(.*\); at these settings it runs up to about 79\d kg\/h; of 200 plausible coefficient sets \d+ % meet the whole spec and \d+ % choke\.$/,
    );
    expect(verdict).toMatchObject({ meets: false, nearest: null });
    expect(verdict!.fails.map(({ text, by }) => [text, by])).toEqual(
      scenario.spec.map(({ text }) => [text, null]),
    );
    expect(second.join(' ')).toMatch(
      /^To meet the whole spec, change one setting: feed rate 900 → \d+ kg\/h \(−\d+ %\)\.$/,
    );
  });

  test('no spec: no verdict, nothing recommended, and how to add a requirement', async () => {
    const scenario = requiring(await demo());
    const { sentence, verdict, meets, second, spec } = answerOf(asInFile(scenario), scenario);
    expect([verdict, meets, spec]).toEqual([null, false, []]);
    expect(sentence).toMatch(
      /^the medium leaning wheel at 1500 rpm, rotor 5730 rpm, 300 kg\/h: x95 72\.\d µm, 8\.9 of 15 kW, outlet 35 °C\.$/,
    );
    expect(second).toEqual([ADD_A_SPEC]);
  });

  test('met: the whole sentence', async () => {
    const scenario = await demo();
    const { sentence } = answerOf(asInFile(scenario), scenario);
    expect(sentence).toMatch(
      /^the medium leaning wheel at 1500 rpm, rotor 5730 rpm, 300 kg\/h: 96\.1 % below 75 µm \(at least 95 % required, plausibly \d+ to [\d.]+\), x50 30\.8 µm \(at least 20 µm required, plausibly \d+ to [\d.]+\), 8\.9 of 15 kW, outlet 35 °C; it meets the whole spec, and "95 % below 75 µm" is nearest its limit \(relative margin 21 %\); of 200 plausible coefficient sets \d+ % meet the whole spec and \d+ % choke\.$/,
    );
  });
});
