import { describe, expect, test } from 'vitest';
import { timeOf } from '../../../src/answers/time/time-run.ts';
import { filesBeside } from '../../../src/scenario/load.ts';
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
  test('the mill is warm long after it has settled', () => {
    const { warm, coldShift, settled, series } = timeOf(scenario('{ duration: 120 min, step: 1 s }'), true);
    const ends = series.temperature.at(-1)!;
    const reached = series.time[series.temperature.findIndex((t) => t > ends - 1.02)]!;
    expect(Math.abs(warm - reached)).toBeLessThan(60);
    expect(warm).toBeGreaterThan(100 * settled[0]!.mill);
    // cold air is denser and thinner: less inflow, so a finer cut
    expect(coldShift).toBeLessThan(-0.005);
    expect(coldShift).toBeGreaterThan(-0.2);
    // a shorter run tells the same: the end is the steady state's, not the run's
    expect(timeOf(scenario('{ duration: 10 min, step: 1 s }'), true).warm).toBe(warm);
  });
});
