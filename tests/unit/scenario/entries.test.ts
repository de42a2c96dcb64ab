import { describe, expect, test } from 'vitest';
import { faultsOf, read, readText, scenarioText } from './reading.ts';

describe('from: starts from an entry and overrides key by key', () => {
  test('a file, itself started from the catalogue', () => {
    const files = { 'my.yaml': 'from: sucrose\nname: icing sugar\nselection: { friability: 0.5 kg/(J m) }' };
    const { material } = read({ material: '{ from: my.yaml, density: 1500 kg/m^3 }' }, files).components[0]!;
    expect(material).toMatchObject({ name: 'icing sugar', density: 1500, heatCapacity: 1244 });
    expect(material.selection).toMatchObject({ law: 'impact', friability: 0.5, threshold: 0.03 });
  });

  test('the material of another scenario', () => {
    const files = { 'other.yaml': scenarioText({ material: '{ from: calcite }' }) };
    expect(read({ material: '{ from: other.yaml }' }, files).components[0]!.material.name).toBe('calcite');
  });

  test('a whole scenario', () => {
    const text = 'from: other.yaml\ntitle: mine\nsettings: { wheelSpeed: 2000 rpm }';
    const scenario = readText(text, { 'other.yaml': scenarioText() });
    expect(scenario.title).toBe('mine');
    expect(scenario.settings.wheelSpeed.value).toBeCloseTo(2000 / 60, 12);
    expect(scenario.settings.feedRate).toBeCloseTo(150 / 3600, 12);
  });

  test('a whole scenario whose machine is a name, and keys laid over it', () => {
    const text = 'from: other.yaml\nmachine: { wheels: { medium-leaning: { geometry: { height: 50 mm } } } }';
    const { machine } = readText(text, { 'other.yaml': scenarioText() });
    expect(machine.rotor.geometry.diameter).toBe(0.3);
    expect(machine.wheels['medium-leaning']!.geometry).toMatchObject({ height: 0.05, diameter: 0.2 });
    const other = 'from: other.yaml\nmachine: production-600\nsettings: { wheelSpeed: 700 rpm }';
    expect(readText(other, { 'other.yaml': scenarioText() }).machine.rotor.geometry.diameter).toBe(0.6);
  });

  test('a wheel of the machine, at any depth', () => {
    const machine = `
  from: pilot-300
  wheels:
    mine: { from: long-leaning, geometry: { vanes: 30 }, coefficients: { sharpness: 0.7 } }`;
    const { wheels } = read({ machine }).machine;
    expect(Object.keys(wheels)).toEqual(['medium-radial', 'medium-leaning', 'long-leaning', 'mine']);
    expect(wheels.mine!.geometry).toMatchObject({ height: 0.11, vanes: 30 });
    expect(wheels.mine!.coefficients.sharpness).toBe(0.7);
    expect(wheels['long-leaning']!.geometry.vanes).toBe(24);
  });

  test('a wheel from a file, as `grade` writes one', () => {
    const files = { 'wheel.yaml': 'efficiency: logistic\ncoefficients: { sharpness: 0.55, bypass: 0.08 }' };
    const machine = `
  from: pilot-300
  wheels: { medium-leaning: { efficiency: logistic, coefficients: { sharpness: 0.55, bypass: 0.08 } } }`;
    const wheel = read({ machine }, files).machine.wheels['medium-leaning']!;
    expect(wheel.efficiency).toEqual({ law: 'logistic' });
    expect(wheel.coefficients).toMatchObject({ sharpness: 0.55, bypass: 0.08 });
  });

  test('another law, another feed or another kind of opening replaces the old one whole', () => {
    const material = '{ from: organic-crystal, selection: { law: log-energy } }';
    expect(read({ material }).components[0]!.material.selection).not.toHaveProperty('friability');
    const files = { 'base.yaml': scenarioText({ feed: '{ percentiles: { 10 %: 100 um, 90 %: 900 um } }' }) };
    const feed = readText('from: base.yaml\nfeed: { percentiles: { 50 %: 300 um, 90 %: 700 um } }', files);
    expect(feed.components[0]!.feed.points).toEqual([
      [0.5, 300e-6],
      [0.9, 700e-6],
    ]);
    const wheels = `
  from: pilot-300
  wheels:
    open: { from: medium-radial, geometry: { openArea: 85 % } }
    counted: { from: open, geometry: { vanes: 30 } }`;
    const { open, counted } = read({ machine: wheels }).machine.wheels;
    expect(open!.geometry.openArea).toBe(0.85);
    expect(counted!.geometry.openArea).toBeUndefined();
  });

  test('the machine brings its usual air, which the scenario overrides', () => {
    expect(read().air.flow).toBeCloseTo(1500 / 3600, 12);
    const { air, provenance } = read({ air: '{ flow: 1200 m^3/h }' });
    expect(air.flow).toBeCloseTo(1200 / 3600, 12);
    expect(provenance['air.flow']!.label).toBe('given');
  });
});

describe('entries that cannot be followed', () => {
  const chain = (length: number) =>
    Object.fromEntries(
      Array.from({ length }, (_, i) => [
        `m${i}.yaml`,
        i === length - 1 ? 'density: 1500 kg/m^3' : `from: m${i + 1}.yaml`,
      ]),
    );
  test.each([
    ['itself', { 'a.yaml': 'from: a.yaml' }, /: refers back to itself: a\.yaml → a\.yaml$/m],
    ['a circle', { 'a.yaml': 'from: b.yaml', 'b.yaml': 'from: a.yaml' }, /a\.yaml → b\.yaml → a\.yaml/],
    [
      'a long chain',
      { ...chain(40), 'a.yaml': 'from: m0.yaml' },
      /: refers on through more than 12 entries; shorten the chain$/m,
    ],
    ['no file', {}, /a\.yaml cannot be read: there is no such file/],
    ['a list', { 'a.yaml': '[1, 2]' }, /a\.yaml must be a block of keys, is a list/],
    ['broken text', { 'a.yaml': 'density: [1' }, /a\.yaml.*not readable as YAML/],
    ['a wrong value', { 'a.yaml': 'density: 5 mm' }, /^a\.yaml: material\.density \(line 1\)/],
  ] as const)('%s', (_, files, message) => {
    const faults = faultsOf(scenarioText({ material: '{ from: a.yaml }' }), files);
    expect(faults.join('\n')).toMatch(message);
  });

  test('what is missing below a failed entry is no fault of its own', () => {
    expect(faultsOf(scenarioText({ material: '{ from: sucrse }' }))).toEqual([
      'material.from (line 2): must be an entry of the catalogue of materials or a file ending in .yaml, is "sucrse"; did you mean sucrose?',
    ]);
  });

  test('wheels in a circle', () => {
    const machine = '{ from: pilot-300, wheels: { a: { from: b }, b: { from: a } } }';
    expect(faultsOf(scenarioText({ machine })).join('\n')).toMatch(/: refers back to itself: a → b → a$/m);
  });
});
