import { describe, expect, test } from 'vitest';
import { ONE_SLIPS } from '../../fixtures/one-slip.ts';
import { faultsOf, read, readText, scenarioText } from './reading.ts';

/** What a reader of the scenario is told of it: every fault, or else what is questioned. */
function answered(change: Readonly<Record<string, string>>): readonly string[] {
  const faults = faultsOf(scenarioText(change));
  return faults.length > 0 ? faults : questions(change);
}

function questions(change: Readonly<Record<string, string>>): readonly string[] {
  const { warnings } = read(change);
  return warnings.filter(({ code }) => code === 'unusual-input').map(({ message }) => message);
}

test('the sound scenario is neither refused nor questioned', () => {
  expect(answered({})).toEqual([]);
});

test('of the scenarios with one slip at least 95 % are refused or questioned', () => {
  const silent = ONE_SLIPS.filter(({ change }) => answered(change).length === 0).map(({ slip }) => slip);
  expect(ONE_SLIPS.length).toBeGreaterThanOrEqual(60);
  expect(silent, `accepted in silence: ${silent.join('; ')}`).toHaveLength(0);
});

describe('the likely slip is named, with rule and value', () => {
  test.each([
    [
      'kJ for J in the heat capacity',
      'material.heatCapacity (line 2): must be ≥ 100 J/(kg K), is 1.35 J/(kg K); did you mean 1.35 kJ/(kg K)?',
    ],
    [
      'g/cm³ for kg/m³',
      'material.density (line 2): must be ≥ 100 kg/m³, is 1.45 kg/m³; did you mean 1.45 g/cm³?',
    ],
    [
      'one digit too many in the density',
      'material.density (line 2): 14500 kg/m³ is outside the usual range, 600 to 8000 kg/m³',
    ],
    ['W for kW', 'machine.rotor.motor.power (line 4): must be ≥ 50 W, is 15 W; did you mean 15 kW?'],
    [
      'base speed with a point between thousands',
      'machine.rotor.motor.baseSpeed (line 4): 5 rpm is outside the usual range, 200 to 20000 rpm; did you mean 5000 rpm?',
    ],
    [
      '500 bars on one rotor',
      'machine.rotor.geometry.count (line 4): 500 elements of 20 mm overlap on a rotor of 300 mm: they are 1.885 mm apart; use fewer or narrower elements',
    ],
    [
      'a gap of 500 mm',
      "machine.rotor.geometry.gap (line 4): must be at most the rotor's radius (150 mm), is 500 mm",
    ],
    [
      'a wheel wider than the mill',
      'machine.wheels.medium-radial.geometry.diameter (line 4): is 400 mm in a mill of 320 mm (rotor and gap): wider than the mill',
    ],
    [
      'mm for µm in percentiles',
      'feed (line 3): 99.5 % of the feed is coarser than the gap between rotor and liner, 10 mm: such lumps do not enter; check the units of the feed’s sizes and of the gap, or crush the feed first',
    ],
    ['kelvin as °C', 'air.temperature (line 7): must be ≤ 150 °C, is 293 °C; did you mean 293 K?'],
    [
      'humidity as a share with %',
      'air.humidity (line 7): 0.5 % is outside the usual range, 5 to 100 %; did you mean 50 %?',
    ],
    [
      'm³/min for m³/h',
      'air.flow (line 7): 90000 m³/h for a mill motor of 15 kW is 6000 m³/h per kW; usual are 20 to 800',
    ],
    [
      'rpm for m/s',
      'settings.rotorSpeed (line 5): 1.414 m/s at the rotor tip (90 rpm) is outside the usual range, 20 to 160 m/s; did you mean 90 m/s?',
    ],
    [
      'wheel Hz typed as rpm',
      'settings.wheelSpeed (line 5): 0.2618 m/s at the wheel rim (25 rpm) is outside the usual range, 2 to 100 m/s; did you mean 25 Hz?',
    ],
    [
      'a wheel speed with a point between thousands',
      'settings.wheelSpeed (line 5): must be at least 0.1 m/s at the wheel rim, is 0.01571 m/s; did you mean 1500 rpm?',
    ],
    [
      'g/s for kg/h',
      'settings.feedRate (line 5): 0.54 kg/h for a mill motor of 15 kW is 0.036 kg/h per kW; usual are 0.2 to 500',
    ],
    [
      'feed with a point between thousands',
      'settings.feedRate (line 5): is read as 1.5 kg/h; a point separates decimals here; did you mean 1500 kg/h?',
    ],
    ['a share required without %', 'spec[0] (line 6): has no %; write passing(75 um) >= 95 %'],
    ['a share above 100 %', 'spec[0] (line 6): passing cannot be above 100 %, the limit is 950 %'],
    ['motor load without %', 'spec[0] (line 6): has no %; write motorLoad <= 90 %'],
    ['a division by zero', 'spec[0] (line 6): must not divide by 0'],
    ['a quantity against itself', 'spec[0] (line 6): compares a quantity with itself; name a limit'],
    [
      'never binding',
      'spec[0] (line 6): is always met: passing is between 0 and 100 %; remove it or change the limit',
    ],
    ['a temperature below absolute zero', 'spec[0] (line 6): is below absolute zero (−273.15 °C): -300 degC'],
    [
      'percentiles that contradict',
      'spec[1] (line 6): contradicts "x50 >= 30 um": no product meets both; change one of them',
    ],
    [
      'one number by two paths',
      'sweep.factors.machine.wheels.medium-leaning.geometry.height (line 7): sets the same number as the factor wheel.geometry.height; keep one of the two',
    ],
    [
      'a level twice in two units',
      'sweep.factors.feedRate[1] (line 7): is the same value as entry 1; list it once',
    ],
    [
      'more powder lost than there is',
      'powder.lossPerRun (line 7): must be at most powder.have (20 kg), is 50 kg',
    ],
  ])('%s', (slip, sentence) => {
    const { change } = ONE_SLIPS.find((one) => one.slip === slip)!;
    expect(answered(change)).toContain(sentence);
  });
});

describe('a spec is refused only where it cannot be meant', () => {
  const told = (...lines: string[]) => answered({ spec: JSON.stringify(lines) });
  test.each([
    [['passing(75 um) >= 95 %', 'passing(10 um) <= 15 %']],
    [['x50 >= 20 um', 'x97 <= 75 um']],
    [['x90 <= 75 um', 'passing(75 um) >= 90 %']],
    [['oversize(75 um) <= 5 %', 'x50 >= 20 um', 'x50 <= 40 um']],
    [['motorLoad <= 90 %', 'motorLoad >= 50 %']],
    [['feedRate >= 100 kg/h', 'outletTemperature <= 50 degC']],
  ])('%j is in order', (lines) => {
    expect(told(...lines)).toEqual([]);
  });
  test.each([
    [['passing(75 um) >= 95 %', 'oversize(75 um) >= 6 %'], 1],
    [['passing(75 um) >= 95 %', 'oversize(75 um) >= 4 %'], 0],
    [['x90 <= 20 um', 'passing(20 um) <= 89 %'], 1],
    [['x90 <= 20 um', 'passing(20 um) <= 91 %'], 0],
    [['x50 >= 30.1 um', 'x90 <= 30 um'], 1],
    [['x50 >= 29.9 um', 'x90 <= 30 um'], 0],
    [['feedRate >= 301 kg/h', '300 kg/h >= feedRate'], 1],
    [['feedRate >= 299 kg/h', '300 kg/h >= feedRate'], 0],
  ])('%j: %d contradictions', (lines, count) => {
    expect(told(...lines).filter((line) => line.includes('contradicts'))).toHaveLength(count);
  });
  test('a share as a bare number below 1 is questioned, above 1 refused', () => {
    expect(told('passing(75 um) >= 0.95')).toEqual(['spec[0] (line 6): has no %: the limit is read as 95 %']);
    expect(told('95 <= passing(75 um)')).toEqual([
      'spec[0] (line 6): has no %; write 95 % <= passing(75 um)',
    ]);
  });
  test('what no quantity can be is named', () => {
    expect(told('x50 >= 0 um')).toEqual([
      'spec[0] (line 6): is always met: x50 is never below 0; remove it or raise the limit',
    ]);
    expect(told('x50 <= 0 um')).toEqual(['spec[0] (line 6): can never be met: x50 is above 0']);
    expect(told('feedRate >= -3 kg/h')).toEqual([
      'spec[0] (line 6): the limit is below 0, which feedRate never is; write a positive limit',
    ]);
  });
  test('a spec the feed meets before it is milled is questioned', () => {
    expect(told('passing(1600 um) >= 95 %')).toEqual([
      'spec[0] (line 6): the feed already meets this: 100 % of it is finer than 1600 µm',
    ]);
    expect(told('passing(75 um) >= 95 %')).toEqual([]);
  });
});

test('no machine or material of the catalogue is questioned', () => {
  for (const machine of ['pilot-300', 'production-600', 'production-1000'])
    expect(questions({ machine, settings: '{ feedRate: 500 kg/h }' }), machine).toEqual([]);
  for (const material of ['organic-crystal', 'calcite', 'sucrose', 'pea', 'table-salt', 'coating-resin'])
    expect(questions({ material }), material).toEqual([]);
  expect(readText(scenarioText()).warnings).toEqual([]);
});
