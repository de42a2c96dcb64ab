import { describe, expect, test } from 'vitest';
import { pressureAtAltitude } from '../../../src/model/air.ts';
import type { Table } from '../../../src/model/parameters.ts';
import { close } from '../../close.ts';
import { faultsOf, read, readText, scenarioText } from './reading.ts';

describe('components', () => {
  const two = (a: string, b: string) => `
  - { share: ${a}, material: { from: pea }, feed: { law: log-normal, x50: 400 um, spread: 0.4 } }
  - { share: ${b}, material: { from: calcite, evaporation: 2 % }, feed: { law: log-normal, x50: 100 um, spread: 0.4 } }`;
  test('have shares that add up, and bring their evaporation by share', () => {
    const scenario = read({ material: '', feed: '', components: two('98 %', '0.02') });
    expect(scenario.components.map(({ share }) => share)).toEqual([0.98, 0.02]);
    close(scenario.machine.evaporation, 0.02 * 0.02, 1e-12);
    expect(scenario.provenance['components.1.material.density']!.value).toBe(2711);
  });
  test('must add up', () => {
    const faults = faultsOf(scenarioText({ material: '', feed: '', components: two('98 %', '3 %') }));
    expect(faults).toEqual([
      expect.stringMatching(/^components \(line \d\): component shares add up to 101 %, must be 100 %$/),
    ]);
  });
  test('stand instead of material and feed', () => {
    expect(faultsOf(scenarioText({ components: two('50 %', '50 %') }))).toHaveLength(2);
  });
});

describe('feed', () => {
  test('by percentiles, in any order', () => {
    const { feed } = read({ feed: '{ percentiles: { 90 %: 900 um, 50 %: 500 um, 10 %: 180 um } }' })
      .components[0]!;
    expect(feed).toEqual({
      law: 'percentiles',
      points: [
        [0.1, 180e-6],
        [0.5, 500e-6],
        [0.9, 900e-6],
      ],
    });
  });
  test('by points of a curve, in mesh too; coarse first is turned round', () => {
    const { feed } = read({ feed: '{ points: [ [ 1 mm, 100 % ], [ 100 mesh, 40 % ], [ 200 mesh, 5 % ] ] }' })
      .components[0]!;
    expect(feed).toEqual({
      law: 'table',
      points: [
        [75e-6, 0.05],
        [150e-6, 0.4],
        [1e-3, 1],
      ],
    });
  });
  test('a curve that nearly ends is scaled up, and said', () => {
    const { components, warnings } = read({ feed: '{ points: [ [ 100 um, 10 % ], [ 1 mm, 99.5 % ] ] }' });
    close((components[0]!.feed.points as Table)[0]![1]!, 0.1 / 0.995, 1e-12);
    expect(warnings.map(({ code }) => code)).toContain('feed-scaled');
  });
  test.each([
    ['{ points: [ [ 100 um, 10 % ], [ 1 mm, 80 % ] ] }', /must end at 100 %, ends at 80 %/],
    ['{ points: [ [ 100 um, 50 % ], [ 500 um, 40 % ], [ 1 mm, 100 % ] ] }', /must not fall/],
    ['{ percentiles: { 10 %: 500 um, 50 %: 180 um } }', /sizes that rise with the shares; at 50 %/],
    ['{ percentiles: { 10 %: 500 um } }', /must have 2 to/],
    ['{ percentiles: { 10: 50 um, 120 %: 500 um } }', /share finer must be < 100 %/],
    ['{ law: rrsb, x63: 500 um }', /feed\.exponent: must be given/],
    ['{ law: rrsb, x63: 500 um, exponent: 1, x50: 3 um }', /feed\.x50 .*: unknown key/],
    ['{ file: none.csv }', /none\.csv cannot be read/],
    ['500 um', /must be a block of keys/],
  ])('%s', (feed, message) => {
    expect(faultsOf(scenarioText({ feed })).join('\n')).toMatch(message);
  });
  test.each([
    ['size_um,undersize_pct\n10,5\n100,60\n500,100\n', undefined],
    ['Size [µm];Passing [%]\n10;5\n100;60\n500;100', undefined],
    ['size\tundersize\n10\t0.05\n100\t0.6\n500\t1', 'um'],
  ])('by a measured file', (text, unit) => {
    const feed = `{ file: a.csv, basis: mass${unit ? `, unit: ${unit}` : ''}, source: my lab }`;
    const { components, provenance } = read({ feed }, { 'a.csv': text });
    const points = components[0]!.feed.points as Table;
    close(points[1]![0]!, 1e-4, 1e-12);
    close(points[1]![1]!, 0.6, 1e-12);
    expect(provenance['feed.x50']).toMatchObject({
      label: 'given',
      source: 'a.csv: my lab, 3 points',
      unit: 'um',
    });
    close(provenance['feed.x50']!.value, 10 * 10 ** (0.45 / 0.55), 1e-12);
  });
  test.each([
    ['size,undersize %\n1,2\n2,60\n3,100', /unit of the sizes .* unit: nm \| um/],
    ['size,undersize %\n1,2\n2,60\n3,100', /basis: volume \| mass \| number/],
    [
      'size,undersize %\n1,2\n2,60\n3,100',
      /one of each: unit: nm\|um\|mm\|m\|mesh, basis: volume\|mass\|number/,
    ],
    ['size_um,undersize_pct\n1,2\n2,60\n3,150', /a\.csv \(line 4\): 150 % is above 100 %/],
    ['size_um,passing_pct\n5,2\n2,50\n7,100', /\(line 3\): the sizes .* turn back/],
    ['size_um,passing_pct\n1,x\n2,50\n3,100', /\(line 2\): "x" under passing_pct is no number/],
    ['size_um,passing_pct\n-1,1\n2,50\n3,100', /\(line 2\): a size must be above 0, is -1/],
    ['size_um', /no table of sizes/],
    ['size_um;passing_pct\n1.5;2\n2,5;100\n3.5;100', /\(line 3\): "2,5" is no size/],
  ])('a file that does not fit: %s', (text, message) => {
    expect(faultsOf(scenarioText({ feed: '{ file: a.csv }' }), { 'a.csv': text }).join('\n')).toMatch(
      message,
    );
  });
});

describe('wheel', () => {
  const wheel = (entry: string) => `{ from: pilot-300, wheels: { medium-leaning: ${entry} } }`;
  test('by its open area alone', () => {
    const machine = `
  from: pilot-300
  wheels:
    medium-leaning: { geometry: { diameter: 200 mm, height: 60 mm, openArea: 85 % } }`;
    const { geometry } = read({ machine }).machine.wheels['medium-leaning']!;
    expect(geometry.openArea).toBe(0.85);
    const own = `
  name: mine
  rotor: { geometry: { element: pin, diameter: 300 mm, count: 40, height: 30 mm, width: 8 mm, gap: unknown }, motor: { power: 15 kW, baseSpeed: 5000 rpm }, maxSpeed: 110 m/s }
  wheels: { only: { geometry: { diameter: 200 mm, height: unknown, openArea: 85 % }, maxSpeed: 6000 rpm } }`;
    const scenario = read({
      machine: own,
      air: '{ flow: 1500 m^3/h }',
      settings: '{ rotorSpeed: 90 m/s, wheelSpeed: 1500 rpm, feedRate: 100 kg/h }',
    });
    close(scenario.machine.rotor.maxSpeed, 110 / (Math.PI * 0.3), 1e-12);
    expect(scenario.settings.wheel).toBe('only');
    expect(scenario.machine.wheels.only!.geometry.vanes).toBe(24);
    expect(scenario.provenance['machine.wheels.only.geometry.vanes']!.label).toBe('assumed');
    expect(scenario.provenance['machine.wheels.only.geometry.thickness']!.label).toBe('derived');
    close(scenario.machine.wheels.only!.geometry.thickness, (0.15 * Math.PI * 0.2) / 24, 1e-12);
    const [low, high] = scenario.uncertain['machine.wheels.only.geometry.height']!;
    close(low, 0.04, 1e-12);
    close(high, 0.12, 1e-12);
    close(scenario.machine.wheels.only!.geometry.height, 0.08, 1e-12);
  });
  test('an efficiency by points is 50 % at the cut', () => {
    const table = (rows: string) => wheel(`{ efficiency: { law: table, points: ${rows} } }`);
    const good = '[[0.5, 10 %], [1, 50 %], [2, 95 %]]';
    expect(read({ machine: table(good) }).machine.wheels['medium-leaning']!.efficiency.law).toBe('table');
    expect(faultsOf(scenarioText({ machine: table('[[0.5, 10 %], [1, 70 %], [2, 95 %]]') }))[0]).toMatch(
      /50 % at a ratio of 1/,
    );
    expect(faultsOf(scenarioText({ machine: table('[[0.5, 30 %], [1, 50 %], [2, 95 %]]') }))[0]).toMatch(
      /below 25 %/,
    );
  });
  test('the swirl factor in use is listed', () => {
    const row = read().provenance['machine.wheels.medium-leaning.coefficients.swirlFactor']!;
    close(row.value, 1 - Math.sqrt(Math.cos(Math.PI / 6)) / 24 ** 0.7, 1e-12);
    expect(row.label).toBe('recalled');
  });
});

describe('air', () => {
  test('the pressure follows from the altitude', () => {
    const { air, provenance } = read({ air: '{ altitude: 500 m }' });
    close(air.pressure, pressureAtAltitude(500), 1e-12);
    // Standard atmosphere at 500 m: 95461 Pa (published: ASHRAE Fundamentals 2017, ch. 1).
    close(air.pressure, 95461, 1e-4);
    expect(provenance['air.pressure']!.label).toBe('derived');
  });
  test('states what the flow is stated at', () => {
    expect(read({ air: '{ state: normal }' }).air.flowState).toBe('normal');
    expect(faultsOf(scenarioText({ air: '{ state: usual }' }))[0]).toMatch(/inlet, standard, normal/);
    expect(faultsOf(scenarioText({ air: '{ altitude: 5 m, pressure: 1 bar }' }))[0]).toMatch(
      /: must not be given together with air\.pressure; keep one$/,
    );
  });
});

describe('speeds', () => {
  const drives = '{ from: pilot-300, drives: { wheel: 3000 rpm = 50 Hz } }';
  const settings = (wheelSpeed: string) =>
    `{ rotorSpeed: 90 m/s, wheel: medium-leaning, wheelSpeed: ${wheelSpeed}, feedRate: 150 kg/h }`;
  test.each([
    ['25 Hz', { as: 'shaft', value: 25 }],
    ['60 %', { as: 'shaft', value: 30 }],
    ['20 m/s', { as: 'rim', value: 20 }],
    ['1500 rpm', { as: 'shaft', value: 25 }],
  ])('%s', (text, speed) => {
    expect(read({ machine: drives, settings: settings(text) }).settings.wheelSpeed).toEqual(speed);
  });
  test.each([
    ['7000 rpm', /at most 6000 rpm, the highest speed of the wheel medium-leaning; is 7000 rpm/],
    ['70 m/s', /at most 6000 rpm/],
    ['0 rpm', /must be > 0/],
    ['-5 rpm', /must be > 0/],
    ['fast', /must be a speed of rotation/],
  ])('%s', (text, message) => {
    expect(faultsOf(scenarioText({ machine: drives, settings: settings(text) }))[0]).toMatch(message);
  });
  test.each([
    '50 Hz',
    '50 Hz = 60 Hz',
    '3000 rpm = 50 rpm',
    '0 Hz = 3000 rpm',
    '50 Hz = 3000 kg',
    'a = b = c',
  ])('a drive must name both sides: %s', (text) => {
    expect(
      faultsOf(scenarioText({ machine: `{ from: pilot-300, drives: { wheel: ${text} } }` })).length,
    ).toBeGreaterThan(0);
  });
});

describe('other blocks', () => {
  test('plug flow', () => {
    expect(read({ machine: '{ from: pilot-300, stages: plug }' }).machine.stages).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
  test('a value with its evidence', () => {
    const material =
      '{ from: sucrose, density: { value: 1.58 g/cm3, label: published, source: "a handbook" } }';
    const { components, provenance } = read({ material });
    expect(components[0]!.material.density).toBe(1580);
    expect(provenance['material.density']).toMatchObject({
      value: 1.58,
      unit: 'g/cm^3',
      label: 'published',
      source: 'a handbook',
    });
    expect(
      faultsOf(scenarioText({ material: '{ from: sucrose, density: { value: 1 kg/m^3, lable: x } }' })),
    ).toHaveLength(2);
  });
  test('a calibration lays its values over the file, and --set over both', () => {
    const files = {
      'cal.json':
        '{ "values": { "material.selection.friability": { "value": "1.4 kg/(J m)", "label": "fitted", "source": "5 trials" }, "wheel.coefficients.cutFactor": "0.93" }, "residual": 0.031 }',
    };
    const text = scenarioText({ calibration: 'cal.json' });
    const scenario = readText(text, files);
    expect(scenario.components[0]!.material.selection.friability).toBe(1.4);
    expect(scenario.provenance['material.selection.friability']).toMatchObject({
      label: 'fitted',
      source: '5 trials',
    });
    expect(scenario.machine.wheels['medium-leaning']!.coefficients.cutFactor).toBe(0.93);
    expect(scenario.provenance['machine.wheels.medium-leaning.coefficients.cutFactor']!.label).toBe('fitted');
    expect(scenario.calibration).toMatchObject({ residual: 0.031 });
    const set = readText(text, files, { set: ['material.selection.friability=2 kg/(J m)'] });
    expect(set.components[0]!.material.selection.friability).toBe(2);
    expect(faultsOf(text, { 'cal.json': '[]' })[0]).toMatch(/no values/);
    // a fit leaves it out, wherever it is and whatever it holds
    const plain = readText(text, {}, { uncalibrated: true });
    expect(plain.calibration).toBeUndefined();
    expect(plain.components[0]!.material.selection.friability).not.toBe(1.4);
    expect(plain.warnings.map(({ message }) => message)).toContain(
      "calibration: cal.json is left out: a fit starts from the file's own coefficients",
    );
  });
  test('a calibration is taken up from a scenario one starts from, and from the command line', () => {
    const cal = (value: number) => `values: { material.selection.friability: ${value} kg/(J m) }`;
    const files = {
      'one.yaml': cal(1.1),
      'two.yaml': cal(1.2),
      'base.yaml': scenarioText({ calibration: 'one.yaml' }),
    };
    const friability = (set: string[]) =>
      readText('from: base.yaml', files, { set }).components[0]!.material.selection.friability;
    expect(friability([])).toBe(1.1);
    expect(friability(['calibration=two.yaml'])).toBe(1.2);
    expect(faultsOf('from: base.yaml', files, { set: ['calibration=three.yaml'] })[0]).toMatch(
      /three\.yaml cannot be read/,
    );
  });
  test('the chosen wheel must be chosen to be named so', () => {
    const text = scenarioText({ settings: '{ feedRate: 100 kg/h }' });
    expect(faultsOf(text, {}, { set: ['wheel.geometry.height=50 mm'] })[0]).toMatch(/must name the wheel/);
  });
  test('powder that is not there cannot be kept back', () => {
    expect(faultsOf(scenarioText({ powder: '{ have: 2 kg, reserve: 5 kg }' }))[0]).toMatch(/powder\.reserve/);
  });
  test('free words of the job are kept', () => {
    expect(read({ job: '{ lot: 47, operator: A. B. }' }).job).toEqual({ lot: '47', operator: 'A. B.' });
  });
});
