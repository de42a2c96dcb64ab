import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/scenario/errors.ts';
import { filesBeside, loadScenario } from '../../../src/scenario/load.ts';
import { type ParseOptions, parseScenario } from '../../../src/scenario/parse.ts';

const DEMO = 'scenarios/erythritol.yaml';

function parse(text: string, options: ParseOptions = {}) {
  return parseScenario(text, { ...filesBeside('scenarios/x.yaml'), ...options });
}

function faultsOf(text: string, options: ParseOptions = {}): string {
  try {
    parse(text, options);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return '';
}

const SHORT = `
title: Lot 4711
material: { from: organic-crystal, density: 1450 kg/m^3 }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine: pilot-300
settings: { rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: 25 Hz, feedRate: 150 kg/h }
spec: [ "passing(75 um) >= 95 %", "motorLoad <= 90 %" ]
goal: maximise feedRate
`;

describe('the demo scenario', () => {
  test('is in SI, its wheels laid out from one another', async () => {
    const scenario = await loadScenario(DEMO);
    const { rotor, wheels } = scenario.machine;
    expect(rotor.geometry.diameter).toBe(0.3);
    expect(rotor.motor.baseSpeed).toBeCloseTo(5000 / 60, 12);
    expect(Object.keys(wheels)).toEqual(['medium-radial', 'medium-leaning', 'long-leaning']);
    expect(wheels['long-leaning']!.geometry).toEqual({
      diameter: 0.2,
      height: 0.11,
      vanes: 24,
      thickness: 0.003,
      lean: Math.PI / 6,
    });
    expect(wheels['medium-radial']!.geometry.lean).toBe(0);
    expect(scenario.air).toEqual({
      flow: 1500 / 3600,
      temperature: 293.15,
      pressure: 101325,
      humidity: 0.5,
      flowState: 'inlet',
    });
    expect(scenario.settings.wheelSpeed).toEqual({ as: 'shaft', value: 2000 / 60 });
    expect(scenario.proposed).toEqual([]);
  });

  test('makes at least 3000 points', async () => {
    const { sweep } = await loadScenario(DEMO);
    const points = sweep!.factors.reduce((n, f) => n * (f.kind === 'levels' ? f.levels.length : f.steps!), 1);
    expect(points).toBe(13 * 17 * 3 * 5);
  });
});

describe('the shortest useful scenario', () => {
  test('takes the rest from the catalogue, with its evidence', () => {
    const scenario = parse(SHORT);
    expect(scenario.components[0]!.material.density).toBe(1450);
    expect(scenario.provenance['material.density']!.label).toBe('given');
    expect(scenario.provenance['material.selection.friability']!.label).toBe('recalled');
    expect(scenario.provenance['machine.rotor.coefficients.velocityRatio']).toMatchObject({
      value: 0.85,
      label: 'assumed',
      symbol: 'η_v',
    });
    expect(scenario.settings.rotorSpeed).toEqual({ as: 'rim', value: 90 });
    expect(scenario.settings.wheelSpeed).toEqual({ as: 'shaft', value: 25 });
  });

  test('says every fault at once, each with its place and line', () => {
    const text = SHORT.replace('25 Hz', '25 kg')
      .replace('feedRate: 150', 'feedRte: 150')
      .replace('0.35', '0,35');
    const faults = faultsOf(text).split('\n');
    expect(faults).toHaveLength(5);
    expect(faults[0]).toBe(
      'feed.35 (line 4): was cut off by a decimal comma; use a decimal point, e.g. 1.5 mm',
    );
    expect(faults.join('\n')).toMatch(/settings\.feedRte \(line 6\): .*did you mean feedRate\?/);
    expect(faults.join('\n')).toMatch(/settings\.wheelSpeed \(line 6\)/);
    expect(faults.join('\n')).toMatch(/settings\.feedRate: must be given/);
  });

  test('proposes speeds that are left out, and says so', () => {
    const scenario = parse(SHORT.replace('rotorSpeed: 90 m/s,', '').replace('wheelSpeed: 25 Hz,', ''));
    expect(scenario.proposed).toEqual(['rotorSpeed', 'wheelSpeed']);
    expect(scenario.settings.rotorSpeed.value).toBeCloseTo(0.8 * 120, 12);
    expect(scenario.warnings.map(({ code }) => code)).toEqual(['proposed', 'proposed']);
  });

  test('takes values from the command line, with the same faults', () => {
    const set = ['wheelSpeed=2400 rpm', 'wheel.geometry.height=50 mm', 'air.humidity=20 %'];
    const scenario = parse(SHORT, { set });
    expect(scenario.settings.wheelSpeed.value).toBe(40);
    expect(scenario.machine.wheels['medium-leaning']!.geometry.height).toBe(0.05);
    expect(scenario.air.humidity).toBe(0.2);
    expect(faultsOf(SHORT, { set: ['wheelSpeed=2400 rpms'] })).toMatch(
      /^--set: settings\.wheelSpeed: .*rpms/,
    );
  });

  test('keeps a range as an uncertainty with its middle', () => {
    const scenario = parse(SHORT, {
      set: ['wheel.geometry.height=50..70 mm', 'machine.rotor.geometry.gap=unknown'],
    });
    expect(scenario.machine.wheels['medium-leaning']!.geometry.height).toBeCloseTo(0.06, 12);
    expect(scenario.uncertain['machine.wheels.medium-leaning.geometry.height']).toEqual([0.05, 0.07]);
    expect(scenario.uncertain['machine.rotor.geometry.gap']).toEqual([0.003, 0.018]);
  });
});

test('a scenario survives a structured clone', () => {
  const scenario = parse(readFileSync(DEMO, 'utf8'));
  expect(structuredClone(scenario)).toEqual(scenario);
});
