import { describe, expect, test } from 'vitest';
import { valueAt, withValue } from '../../../src/scenario/operating-point.ts';
import type { Factor } from '../../../src/scenario/scenario.ts';
import { fromShown } from '../../../src/scenario/units/display.ts';
import { close } from '../../close.ts';
import { faultsOf, read, scenarioText } from './reading.ts';

const MACHINE = '{ from: pilot-300, drives: { wheel: 50 Hz = 3000 rpm } }';

function factor(path: string, value: string): Factor {
  return read({ machine: MACHINE, sweep: `{ factors: { ${path}: ${value} } }` }).sweep!.factors[0]!;
}

function fault(path: string, value: string): string {
  return faultsOf(scenarioText({ machine: MACHINE, sweep: `{ factors: { ${path}: ${value} } }` })).join('\n');
}

describe('a factor', () => {
  test('from a to b in steps, in the unit as typed', () => {
    expect(factor('feedRate', '{ from: 0.1 t/h, to: 0.5 t/h, steps: 5 }')).toEqual({
      kind: 'number',
      path: 'feedRate',
      from: expect.closeTo(100 / 3600, 14),
      to: expect.closeTo(500 / 3600, 14),
      steps: 5,
      scale: 'linear',
      integer: false,
      shownIn: 't/h',
    });
  });
  test('of a speed keeps the way it is meant', () => {
    expect(factor('wheelSpeed', '{ from: 10 m/s, to: 40 m/s, steps: 4 }')).toMatchObject({
      as: 'rim',
      from: 10,
      shownIn: 'm/s',
    });
    expect(factor('wheelSpeed', '[ 20 Hz, 50 % ]')).toMatchObject({
      as: 'shaft',
      levels: [20, 25],
      shownIn: 'rpm',
    });
    expect(factor('settings.rotorSpeed', '[ 4000 rpm ]')).toMatchObject({
      path: 'rotorSpeed',
      levels: [4000 / 60],
    });
  });
  test.each([
    ['rotorSpeed', '4500..7000 rpm step 500', 'from: 4500 rpm, to: 7000 rpm'],
    ['wheelSpeed', '10 m/s to 40 m/s', 'from: 10 m/s, to: 40 m/s'],
    ['feedRate', '80 - 320 kg/h', 'from: 80 kg/h, to: 320 kg/h'],
    ['airFlow', '[ 1200:1800 m^3/h ]', 'from: 1200 m^3/h, to: 1800 m^3/h'],
    ['wheel.geometry.height', '45…60 mm', 'from: 45 mm, to: 60 mm'],
  ])('%s: %s is a range in one text, with how to write it', (path, value, remedy) => {
    expect(fault(path, `"${value.replace(/^\[ | \]$/g, '')}"`)).toMatch(
      `is a range in one text; write { ${remedy}, steps: 5 }`,
    );
  });
  test.each([
    ['feedRate', '1.5e2 kg/h', 150 / 3600],
    ['wheel.coefficients.leakage', '2e-4', 2e-4],
  ])('%s: %s is one value, not a range', (path, value, si) => {
    const [level] = (factor(path, value) as unknown as { levels: number[] }).levels;
    expect(level).toBeCloseTo(si, 12);
  });
  test('of names', () => {
    expect(factor('wheel', '[ medium-radial, long-leaning ]')).toMatchObject({
      levels: ['medium-radial', 'long-leaning'],
    });
    expect(factor('machine.rotor.geometry.element', '[ bar, pin ]')).toMatchObject({
      levels: ['bar', 'pin'],
    });
    expect(factor('wheel.efficiency', '[ logistic, rosin-rammler ]')).toMatchObject({
      path: 'wheel.efficiency.law',
    });
  });
  test('of air by its name among the quantities', () => {
    expect(factor('airFlow', '[ 1200 m^3/h ]').path).toBe('air.flow');
  });
  test('of whole numbers', () => {
    expect(factor('wheel.geometry.vanes', '[ 24, 36 ]')).toMatchObject({ levels: [24, 36] });
    expect(fault('wheel.geometry.vanes', '[ 24.5 ]')).toMatch(/whole number/);
  });
});

describe('every number of the mill can be a factor by its path', () => {
  const scenario = read({ material: '{ from: organic-crystal, evaporation: 1 % }', machine: MACHINE });
  const paths = Object.entries(scenario.provenance).filter(([path]) =>
    /^(material|feed|machine(?!\.drives)|air)\./.test(path),
  );
  test.each(paths)('%s', (path, { value, unit }) => {
    const typed = unit === '1' ? `${value}` : `${value} ${unit}`;
    const read = factor(path, `[ ${typed} ]`) as Factor & { kind: 'levels' };
    const level = read.levels[0] as number;
    close(level, fromShown(value, unit), 1e-12);
    const held = valueAt(scenario, read.path);
    // The swirl factor follows from vanes and lean until it is given.
    if (!path.endsWith('swirlFactor')) close(held as number, level, 1e-12);
    const changed = withValue(scenario, read.path, level * 1.01);
    expect(valueAt(changed, read.path)).toBe(level * 1.01);
  });
});

describe('a factor that cannot be', () => {
  test.each([
    ['wheelSped', '[ 1500 rpm ]', /did you mean wheelSpeed/],
    ['wheel.geometry.heigth', '[ 50 mm ]', /did you mean machine\.wheels\.medium-leaning\.geometry\.height/],
    ['wheel.geometry.height', '[ 50 kg ]', /must be a length/],
    ['wheel.geometry.height', '{ from: 50 mm, to: 40 mm, steps: 3 }', /low to high/],
    ['wheel.geometry.height', '{ from: -5 mm, to: 40 mm, steps: 3 }', /must be > 0 mm/],
    ['wheel.geometry.height', '{ from: 5 mm, steps: 3 }', /\.to .*must be given/],
    [
      'wheel.geometry.height',
      '{ from: 5 mm, to: 40 mm }',
      /steps: must be given for a grid|steps .*must be given for a grid/,
    ],
    ['wheel.geometry.height', '{ from: 5 mm, to: 40 mm, stps: 3 }', /did you mean steps/],
    ['wheel.coefficients.cutLoading', '{ from: 0, to: 1, steps: 3, scale: log }', /above 0 on a log scale/],
    ['wheelSpeed', '{ from: 1000 rpm, to: 40 m/s, steps: 3 }', /same kind of unit/],
    ['wheelSpeed', '{ from: 1000 rpm, to: 9000 rpm, steps: 3 }', /at most 6000 rpm/],
    ['rotorSpeed', '[ 9000 rpm ]', /at most 7200 rpm/],
    ['rotorSpeed', '[ 100 Hz ]', /at most 7200 rpm/],
    ['wheel', '[ medium-radiall ]', /did you mean medium-radial/],
    ['wheel', '{ from: medium-radial, to: long-leaning }', /list of names/],
    ['air.altitude', '[ 100 m ]', /air\.pressure/],
    ['powder.have', '[ 5 kg ]', /: is neither a setting nor the path of a number in this file/],
    ['title', '[ a ]', /is neither a setting nor the path of a number/],
    ['feedRate', '[]', /1 to/],
    ['feedRate', '{ from: 1 kg/h, to: 9 kg/h, steps: 1e9 }', /≤ 100000/],
  ])('%s: %s', (path, value, message) => {
    expect(fault(path, value)).toMatch(message);
  });

  test('too many points for a grid are refused before anything is made of them', () => {
    const factors = ['velocityRatio', 'hitFactor', 'crowdingLoad', 'idleNumber']
      .map((name) => `machine.rotor.coefficients.${name}: { from: 0.5, to: 1, steps: 1000 }`)
      .join(', ');
    expect(faultsOf(scenarioText({ sweep: `{ factors: { ${factors} } }` }))[0]).toMatch(
      /at most 50000000 points/,
    );
  });

  test('a wheel speed beyond one of several wheels is a warning: such points are not to be run', () => {
    const machine = '{ from: pilot-300, wheels: { slow: { from: medium-radial, maxSpeed: 3000 rpm } } }';
    const sweep =
      '{ factors: { wheel: [ slow, medium-radial ], wheelSpeed: { from: 1000 rpm, to: 5000 rpm, steps: 5 } } }';
    expect(read({ machine, sweep }).warnings.map(({ code }) => code)).toContain('overspeed');
  });
});
