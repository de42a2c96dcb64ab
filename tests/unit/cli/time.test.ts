import { describe, expect, test } from 'vitest';
import { timeOf } from '../../../src/answers/time/time-run.ts';
import { timeSentences } from '../../../src/answers/time/time-words.ts';
import { solve } from '../../../src/model/loop/solve.ts';
import { shownAfter } from '../../../src/scenario/casing-of-scenario.ts';
import { filesBeside } from '../../../src/scenario/load.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';

const scenario = (time: string) =>
  parseScenario(
    `
title: in time
material: { from: organic-crystal }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 200 kg/h }
plant: { feeder: { law: volumetric, maximumRate: 500 kg/h } }
time: ${time}
`,
    filesBeside('scenarios/x.yaml'),
  );

describe('time', () => {
  test('a sample is good minutes after the mill has settled in seconds', () => {
    const { settled } = timeOf(scenario('{ duration: 12 min }'), true);
    expect(settled[0]!.mill).toBeLessThan(15);
    expect(settled[0]!.sample).toBeGreaterThan(120);
  });
  test('a run too short behind a change does not call a sample good', () => {
    const { settled } = timeOf(
      scenario('{ duration: 12 min, events: [ { at: 10 min, feedRate: 300 kg/h } ] }'),
      true,
    );
    expect(settled[0]!.sample).toBeGreaterThan(120);
    expect(settled[1]!.mill).toBeLessThan(30);
    expect(settled[1]!.sample).toBeNaN();
  });
  test('more feed coarsens the product and a trip empties the mill', () => {
    const { series } = timeOf(
      scenario(
        '{ duration: 20 min, events: [ { at: 8 min, feedRate: 400 kg/h }, { at: 16 min, feedRate: 0 kg/h } ] }',
      ),
      true,
    );
    const at = (minutes: number) => series.time.findIndex((t) => t >= minutes * 60 - 1);
    expect(series.x95[at(15)]!).toBeGreaterThan(series.x95[at(7)]!);
    expect(series.holdup[at(19)]!).toBeLessThan(1e-6);
  });
  test('the feeder wanders as it is said to, the mill and the line smooth it; the same seed gives the same run', () => {
    const noisy = timeOf(scenario('{ duration: 60 min, seed: 5 }'), false);
    const { feedRate, x95 } = noisy.spread;
    expect(feedRate.deviation / feedRate.mean).toBeGreaterThan(0.015);
    expect(feedRate.deviation / feedRate.mean).toBeLessThan(0.09);
    expect(x95.deviation / x95.mean).toBeLessThan(0.5 * (feedRate.deviation / feedRate.mean));
    expect(timeOf(scenario('{ duration: 60 min, seed: 5 }'), false).series.x95).toEqual(noisy.series.x95);
  });
  test('too much feed is a choke at a time', () => {
    const { choked, series } = timeOf(
      scenario('{ duration: 6 min, events: [ { at: 1 min, feedRate: 2000 kg/h } ] }'),
      true,
    );
    expect(choked).toBe(true);
    expect(series.chokedAt).toBeGreaterThan(60);
  });
  test('two feeders in ratio: the share as fed spreads as T4 says, behind mill and line far less', () => {
    const still = 'drift: 0 %, pulsation: 0 %, refillError: 0 %';
    const text = `
title: with a flow agent
components:
  - { share: 80 %, material: { from: organic-crystal }, feed: { law: log-normal, x50: 500 um, spread: 0.35 } }
  - { share: 20 %, material: { from: table-salt }, feed: { law: log-normal, x50: 300 um, spread: 0.35 } }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 1500 rpm, feedRate: 200 kg/h }
plant:
  feeder: { law: volumetric, noise: 2 %, ${still} }
  secondFeeder: { law: volumetric, noise: 3 %, ${still} }
time: { duration: 40 min, step: 500 ms, seed: 3 }
`;
    const { spread } = timeOf(parseScenario(text, filesBeside('scenarios/x.yaml')), false);
    const { feed, mill, sample } = spread.shares!;
    expect(Math.abs(feed.mean - 0.8)).toBeLessThan(0.002);
    // some 700 independent values in the run: the deviation itself is known to about 3 %
    expect(Math.abs(feed.deviation / 0.00576888 - 1)).toBeLessThan(0.1);
    expect(mill.deviation).toBeLessThan(feed.deviation);
    expect(sample.deviation).toBeLessThan(0.4 * feed.deviation);
    const one = timeOf(
      parseScenario(text.replace(/ {2}secondFeeder.*\n/, ''), filesBeside('scenarios/x.yaml')),
      false,
    );
    expect(one.spread.shares).toBeUndefined();
    const shares = one.series.feedShare;
    expect(Math.max(...shares) - Math.min(...shares)).toBeLessThan(1e-12);
  });
  test('the outlet shows most of its rise at once, the rest within the casing’s time, and ends on the steady point', () => {
    const hours = timeOf(scenario('{ duration: 400 min, step: 4 s, sampleLag: 10 s }'), true);
    const c = toCase(scenario('{}'));
    const rest = solve(c, { choke: false });
    if (rest.status === 'choked') throw new Error('the pilot does not choke here');
    const rise = rest.conditions.temperature - c.air.temperature;
    const shown = hours.series.temperature.map((t) => (t - c.air.temperature) / rise);
    const at = (minutes: number) => shown[hours.series.time.findIndex((t) => t >= minutes * 60 - 1)]!;
    expect(at(1)).toBeGreaterThan(0.92);
    expect(at(1)).toBeLessThan(0.96);
    expect(Math.abs(at(400) - 1)).toBeLessThan(0.005);
    // the same balance in closed form: what the run sheet prints
    for (const minutes of [1, 10, 60, 200]) {
      const foretold =
        (shownAfter(scenario('{}'), rest.conditions.temperature, 60 * minutes) - c.air.temperature) / rise;
      expect(Math.abs(at(minutes) - foretold), `${minutes} min`).toBeLessThan(0.004);
    }
    // the cut follows the same temperature: no warm product beside a cold outlet
    const last = hours.series.x95.at(-1)!;
    const early = hours.series.x95[hours.series.time.findIndex((t) => t >= 59)]!;
    expect(Math.abs(early / last - 1 - hours.coldShift)).toBeLessThan(0.2 * Math.abs(hours.coldShift));
    expect(hours.coldShift).toBeLessThan(0);
    expect(hours.coldShift).toBeGreaterThan(-0.01);
  });
  test('a stated casing is used: it takes longer to warm up', () => {
    const heavy = '{ duration: 5 min, casingExchange: 200 W/K, casingHeat: 2000 kJ/K }';
    const [usual, slow] = [timeOf(scenario('{ duration: 5 min }'), true), timeOf(scenario(heavy), true)];
    expect(slow.atOnce).toBeLessThan(0.76);
    expect(usual.atOnce).toBeGreaterThan(0.93);
    expect(slow.warm).toBeGreaterThan(60 * 60);
    expect(slow.series.temperature.at(-1)!).toBeLessThan(usual.series.temperature.at(-1)! - 1);
  });
});

describe('trips', () => {
  const text = (time: string, spec = '[ "passing(75 um) >= 95 %" ]') =>
    parseScenario(
      `
title: in time
material: { from: organic-crystal }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 2200 rpm, feedRate: 200 kg/h }
spec: ${spec}
powder: { have: 10 kg, reserve: 2 kg }
time: ${time}
`,
      filesBeside('scenarios/x.yaml'),
    );
  const told = (time: string, spec?: string) => {
    const of = text(time, spec);
    return timeSentences(of, timeOf(of, true)).join('\n');
  };
  test('a wheel that runs down coarsens the product until it is out of specification', () => {
    const of = text('{ duration: 30 min, events: [ { at: 6 min, trip: wheel } ] }');
    const { series, masses } = timeOf(of, true);
    const at = (minutes: number) => series.time.findIndex((t) => t >= minutes * 60 - 1);
    expect(series.x95[at(5.9)]!).toBeLessThan(75e-6);
    expect(series.x95[at(29)]!).toBeGreaterThan(series.x95[at(10)]!);
    expect(series.x95[at(10)]!).toBeGreaterThan(series.x95[at(5.9)]!);
    expect(masses.map(({ from }) => from)).toEqual([0, 360]);
    expect(masses[0]!.outOfSpec).toBeLessThan(0.1);
    expect(masses[1]!.outOfSpec).toBeGreaterThan(1);
    // what left is what was fed, less what the loop holds
    const total = masses.reduce((sum, { product }) => sum + product, 0);
    const fed = masses.reduce((sum, each) => sum + each.fed, 0);
    expect(Math.abs((total + series.holdup.at(-1)!) / fed - 1)).toBeLessThan(2e-3);
    expect(Math.abs(fed / 100 - 1)).toBeLessThan(1e-9);
  });
  test('without rotor or air the mill chokes within seconds unless the feed stops', () => {
    const rotor = timeOf(text('{ duration: 10 min, events: [ { at: 6 min, trip: rotor } ] }'), true);
    expect(rotor.choked).toBe(true);
    expect(rotor.series.chokedAt - 360).toBeGreaterThan(2);
    expect(rotor.series.chokedAt - 360).toBeLessThan(120);
    const stopped = timeOf(
      text('{ duration: 10 min, events: [ { at: 6 min, trip: rotor, feedRate: 0 kg/h } ] }'),
      true,
    );
    expect(stopped.choked).toBe(false);
    expect(stopped.series.rotorPower.at(-1)!).toBeLessThan(0.05 * rotor.series.rotorPower[10]!);
    expect(told('{ duration: 10 min, events: [ { at: 6 min, trip: rotor } ] }')).toMatch(
      /^the mill chokes \d+ s after the rotor trip at 6 min; stop the feed before that\.$/m,
    );
    expect(timeOf(text('{ duration: 10 min, events: [ { at: 6 min, trip: fan } ] }'), true).choked).toBe(
      true,
    );
  });
  test('a feeder trip stops the feed, an airlock trip fills the cyclone', () => {
    const feeder = told('{ duration: 10 min, events: [ { at: 6 min, trip: feeder } ] }');
    expect(feeder).toMatch(
      /^Feed stopped at 6 min: 99 % of the hold-up has left [\d.]+ s later\. The rotor and the wheel still turn\.$/m,
    );
    expect(feeder).not.toMatch(/\de-\d/);
    expect(told('{ duration: 10 min, events: [ { at: 6 min, trip: airlock } ] }')).toMatch(
      /^From the airlock trip at 6 min 200 kg\/h of product collect in the cyclone: stop the feed\.$/m,
    );
  });
  test('powder before the first good sample is held against what is available', () => {
    expect(told('{ duration: 10 min }')).toMatch(
      /^13\.\d kg of powder are fed before the first good sample, more than the 8 kg available\.$/m,
    );
    expect(told('{ duration: 10 min }')).toMatch(
      /^Product out of specification: 0 kg of 33\.\d kg from the start\.$/m,
    );
    expect(told('{ duration: 10 min }', '[ "motorLoad <= 90 %" ]')).toMatch(
      /^Product out of specification is not counted: the spec has no requirement on sizes\.$/m,
    );
    expect(told('{ duration: 10 min }', '[ "passing(30 um) >= 95 %" ]')).toMatch(
      /^Product out of specification: (33\.\d) kg of \1 kg from the start\.$/m,
    );
  });
  test('an event that does nothing is refused', () => {
    expect(() => text('{ events: [ { at: 6 min } ] }')).toThrow(
      'time.events.0 (line 9): must have a feedRate or a trip, e.g. { at: 10 min, trip: wheel }',
    );
    expect(() => text('{ events: [ { at: 6 min, trip: whel } ] }')).toThrow(
      'must be one of wheel, rotor, fan, feeder, airlock, is "whel"; did you mean wheel?',
    );
  });
});
