import { describe, expect, test } from 'vitest';
import { asInFile } from '../../src/answers/recommend.ts';
import { ADD_A_SPEC, answerOf } from '../../src/answers/report-answer.ts';
import { missesOf, nearestOf, standingOf } from '../../src/answers/standing.ts';
import { missesText, nearestText, pointVerdict } from '../../src/answers/verdict-words.ts';
import { withValue } from '../../src/scenario/operating-point.ts';
import { expressionValue } from '../../src/scenario/outcome/spec.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { formatNumber } from '../../src/scenario/units/display.ts';
import { demo, requiring } from './cases.ts';

/** A quantity at a scenario's point, SI. */
function quantityAt(scenario: Scenario, name: string, argument?: number): number {
  const { point } = standingOf(scenario);
  if (point.status === 'choked') throw new Error('this case runs');
  return expressionValue({ kind: 'quantity', name, ...(argument === undefined ? {} : { argument }) }, point);
}

describe('the verdict on a point', () => {
  test('the nearest requirement is the one with the smallest relative margin, wherever it stands', () => {
    expect(nearestOf({ relative: [0.4, 0.02, 0.3] })).toBe(1);
    expect(nearestOf({ relative: [-0.1, 0.02, -0.3] })).toBe(2);
    expect(nearestOf({ relative: [] })).toBe(-1);
  });

  test('all that fails is named, worst first, with its unit', async () => {
    const base = await demo();
    const [x50, load, fine] = [
      quantityAt(base, 'x50'),
      quantityAt(base, 'motorLoad'),
      quantityAt(base, 'passing', 75e-6),
    ];
    // missed by 1 % of its limit, by half of it, and by 40 % of the share that may be coarser
    const share = 1 - (1 - fine) / 1.4;
    const scenario = requiring(
      base,
      `x50 >= ${(x50 / 0.99) * 1e6} um`,
      `motorLoad <= ${(100 * load) / 1.5} %`,
      `passing(75 um) >= ${100 * share} %`,
      'outletTemperature <= 90 degC',
    );
    const standing = standingOf(scenario);
    expect(
      missesOf(standing).map((miss) => (miss.kind === 'requirement' ? miss.place : miss.excess.name)),
    ).toEqual([1, 2, 0]);
    const digits = (value: number) => formatNumber(value, 2);
    const four = (value: number) => formatNumber(value, 4);
    expect(missesText(scenario, standing)).toBe(
      `"motor load at most ${four((100 * load) / 1.5)} %" by ${digits(100 * (load - load / 1.5))} percentage points, ` +
        `"${four(100 * share)} % below 75 µm" by ${digits(100 * (share - fine))} percentage points and ` +
        `"x50 at least ${four((x50 / 0.99) * 1e6)} µm" by ${digits((x50 / 0.99 - x50) * 1e6)} µm`,
    );
    expect(pointVerdict(scenario, standing)).toBe(`it misses ${missesText(scenario, standing)}`);
  });

  test('where all are met, the nearest is named with its relative margin', async () => {
    const base = await demo();
    const limit = formatNumber(100 * quantityAt(base, 'motorLoad') * 1.02, 4);
    const scenario = requiring(
      base,
      'outletTemperature <= 50 degC',
      `motorLoad <= ${limit} %`,
      'x50 >= 20 um',
    );
    const standing = standingOf(scenario);
    expect(nearestText(scenario, standing)).toBe(
      `"motor load at most ${limit} %" is nearest its limit (relative margin 2 %)`,
    );
    expect(pointVerdict(scenario, standing)).toBe(
      `it meets the whole spec, and "motor load at most ${limit} %" is nearest its limit (relative margin 2 %)`,
    );
  });

  test('a shaft that turns too fast or a motor too weak meets no spec, and is named', async () => {
    const slow = requiring(await demo('settings.feedRate=20 kg/h'), 'x50 >= 1 um');
    const fast = withValue(slow, 'wheelSpeed', 6600 / 60, 'shaft');
    const overspeed = standingOf(fast);
    expect(overspeed.meets).toBe(false);
    expect(missesText(fast, overspeed)).toBe('the highest wheel speed by 600 rpm');
    const base = requiring(await demo(), 'x50 >= 1 um');
    const power = quantityAt(base, 'rotorPower');
    // above its base speed the motor gives its full power
    const weak = withValue(base, 'machine.rotor.motor.power', power / 1.25);
    const standing = standingOf(weak);
    expect(standing.meets).toBe(false);
    expect(missesText(weak, standing)).toBe(
      `the highest rotor power by ${formatNumber((power - power / 1.25) / 1000, 2)} kW`,
    );
    expect(standingOf(withValue(base, 'machine.rotor.motor.power', power * 1.001)).meets).toBe(true);
  });

  test('choked: why, and the feed that would run', async () => {
    const scenario = await demo('settings.feedRate=1900 kg/h');
    const { sentence, verdict, second } = answerOf(asInFile(scenario), scenario);
    expect(sentence).toMatch(
      /^the medium leaning wheel at 2000 rpm, rotor 5730 rpm, 1900 kg\/h: the mill chokes \(.*\); at these settings it runs up to about \d+ kg\/h; of 200 plausible coefficient sets \d+ % meet the whole spec and \d+ % choke\.$/,
    );
    expect(verdict).toMatchObject({ meets: false, nearest: null });
    expect(verdict!.fails.map(({ text, by }) => [text, by])).toEqual(
      scenario.spec.map(({ text }) => [text, null]),
    );
    expect(second.join(' ')).toMatch(
      /^To run and meet the whole spec, change one setting: feed rate 1900 → \d+ kg\/h \(−\d+ %\)\.$/,
    );
  });

  test('no spec: no verdict, nothing recommended, and how to add a requirement', async () => {
    const scenario = requiring(await demo());
    const { sentence, verdict, meets, second, spec } = answerOf(asInFile(scenario), scenario);
    expect([verdict, meets, spec]).toEqual([null, false, []]);
    expect(sentence).toMatch(
      /^the medium leaning wheel at 2000 rpm, rotor 5730 rpm, 300 kg\/h: x95 [\d.]+ µm, [\d.]+ of 15 kW, outlet \d+ °C\.$/,
    );
    expect(second).toEqual([ADD_A_SPEC]);
  });

  test('two limits of one size are one phrase, and a feed rate that is set has no plausible range', async () => {
    const scenario = requiring(await demo(), 'x50 >= 20 um', 'feedRate >= 250 kg/h', 'x50 <= 60 um');
    const { sentence, spec } = answerOf(asInFile(scenario), scenario);
    const x50 = formatNumber(1e6 * quantityAt(scenario, 'x50'), 3);
    expect(sentence).toMatch(
      new RegExp(`kg/h: x50 ${x50} µm \\(at least 20 µm and at most 60 µm required, plausibly [^)]+\\), \\d`),
    );
    expect(spec.map(({ range }) => range === '')).toEqual([false, true, false]);
  });

  test('met: the whole sentence', async () => {
    const scenario = await demo();
    const { sentence } = answerOf(asInFile(scenario), scenario);
    const shown = (value: number, digits = 3) => formatNumber(value, digits);
    const fine = shown(100 * quantityAt(scenario, 'passing', 75e-6));
    const x50 = shown(1e6 * quantityAt(scenario, 'x50'));
    const power = shown(quantityAt(scenario, 'rotorPower') / 1000, 2);
    const outlet = shown(quantityAt(scenario, 'outletTemperature') - 273.15, 2);
    const plausible = 'plausibly [\\d.]+ to [\\d.]+';
    const nearest = nearestText(scenario, standingOf(scenario)).replace(/[()]/g, '\\$&');
    expect(sentence).toMatch(
      new RegExp(
        `^the medium leaning wheel at 2000 rpm, rotor 5730 rpm, 300 kg/h: ` +
          `${fine} % below 75 µm \\(at least 95 % required, ${plausible}\\), x50 ${x50} µm \\(at least 20 µm required, ${plausible}\\), ` +
          `${power} of 15 kW, outlet ${outlet} °C; it meets the whole spec, and ${nearest}; ` +
          `of 200 plausible coefficient sets \\d+ % meet the whole spec and \\d+ % choke\\.$`,
      ),
    );
  });
});
