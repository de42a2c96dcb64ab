import { describe, expect, test } from 'vitest';
import { timeOf } from '../../../src/cli/time.ts';
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
});
