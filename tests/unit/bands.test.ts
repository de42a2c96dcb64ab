import { describe, expect, test } from 'vitest';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { type Change, changed, PILOT, rpm, WHEELS } from '../cases.ts';

/** Bands of common practice (no source), as in notebooks/checked-from-outside.md, on the pilot point. */
function at(change: Change, ...names: string[]): number[] {
  const point = solvePoint(changed(PILOT, change));
  if (point.status !== 'steady') throw new Error('choked');
  return names.map((name) => quantityNamed(name)!.of(point));
}
const one = (change: Change, name: string) => at(change, name)[0]!;

describe('common practice', () => {
  test('the pilot case milled to 95 % below 75 µm: 15–35 kWh/t, outlet 15–35 K above inlet, 0.1–0.4 kg of product per m³', () => {
    const [x95, energy, temperature, loading] = at(
      { settings: { wheelSpeed: 1800 * rpm } },
      'x95',
      'specificEnergy',
      'outletTemperature',
      'productLoading',
    );
    expect(x95).toBeGreaterThan(60e-6);
    expect(x95).toBeLessThan(75e-6);
    expect(energy! / 3.6e3).toBeGreaterThan(15);
    expect(energy! / 3.6e3).toBeLessThan(35);
    expect(temperature! - 293.15).toBeGreaterThan(15);
    expect(temperature! - 293.15).toBeLessThan(35);
    expect(loading).toBeGreaterThan(0.1);
    expect(loading).toBeLessThan(0.4);
  });
  test('a particle goes round some 20 to 40 times within a couple of seconds when milling fine', () => {
    const [passes, residence] = at(
      { settings: { wheelSpeed: 3600 * rpm, feedRate: 150 / 3600 } },
      'passes',
      'residence',
    );
    expect(passes).toBeGreaterThan(20);
    expect(passes).toBeLessThan(40);
    expect(residence).toBeLessThan(3);
  });
  test('finer in this order at equal speeds: medium radial, medium leaning, long leaning', () => {
    const [radial, leaning, long] = Object.values(WHEELS).map((wheel) => one({ wheel }, 'x95'));
    expect(leaning).toBeLessThan(radial!);
    expect(long).toBeLessThan(leaning!);
  });
  test('wheel +20 %: x97 −10 to −20 %', () => {
    const ratio = one({ settings: { wheelSpeed: 1800 * rpm } }, 'x97') / one({}, 'x97');
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(0.9);
  });
  test('air +15 %: x97 +3 to +15 %', () => {
    const ratio = one({ air: { flow: (1.15 * 1500) / 3600 } }, 'x97') / one({}, 'x97');
    expect(ratio).toBeGreaterThan(1.03);
    expect(ratio).toBeLessThan(1.15);
  });
  test('rotor +20 %: fewer passes, x97 falls less than x10', () => {
    const names = ['passes', 'x10', 'x97'];
    const before = at({}, ...names);
    const after = at({ settings: { rotorSpeed: 1.2 * PILOT.settings.rotorSpeed } }, ...names);
    expect(after[0]).toBeLessThan(before[0]!);
    expect(after[2]).toBeLessThan(before[2]!);
    expect(after[1]! / before[1]!).toBeLessThan(after[2]! / before[2]!);
  });
  test('feed to overload: hold-up and power climb, product coarsens, then it chokes', () => {
    const names = ['holdup', 'rotorPower', 'x95'];
    const ladder = [200, 400, 600, 900].map((rate) => at({ settings: { feedRate: rate / 3600 } }, ...names));
    for (let step = 1; step < ladder.length; step++) {
      expect(ladder[step]![0]).toBeGreaterThan(ladder[step - 1]![0]!);
      expect(ladder[step]![1]).toBeGreaterThan(ladder[step - 1]![1]!);
      expect(ladder[step]![2]).toBeGreaterThan(ladder[step - 1]![2]!);
    }
    expect(solvePoint(changed(PILOT, { settings: { feedRate: 1000 / 3600 } })).status).toBe('choked');
  });
  test('90 to 140 m³/h of air per installed mill kW', () => {
    const perPower = (PILOT.air.flow * 3600) / (PILOT.rotor.motor.power / 1000);
    expect(perPower).toBeGreaterThanOrEqual(90);
    expect(perPower).toBeLessThanOrEqual(140);
  });
});
