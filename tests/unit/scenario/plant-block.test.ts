import { describe, expect, test } from 'vitest';
import { toCase, valueAt, withValue } from '../../../src/scenario/operating-point.ts';
import { outcomeOf } from '../../../src/scenario/outcome/outcome.ts';
import { PLANT_QUANTITIES } from '../../../src/scenario/outcome/plant-quantities.ts';
import { quantityNamed } from '../../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { parseScenario } from '../../../src/scenario/parse.ts';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import { studyOf } from '../../../src/sweep/study/study-of.ts';
import { close } from '../../close.ts';

const MILL = `
title: plant around a mill
material:
  name: crystal
  density: 1450 kg/m^3
  sphericity: 0.85
  heatCapacity: 1350 J/(kg K)
  selection: { law: impact, friability: 0.9 kg/(J m), threshold: 0.025 J m/kg }
  fragments: { law: impact, exponent: 0.9, finesScale: 1 um }
feed: { law: log-normal, x50: 500 um, spread: 0.35 }
machine:
  name: mill
  rotor:
    geometry: { element: bar, diameter: 300 mm, count: 12, height: 30 mm, width: 20 mm, gap: 10 mm }
    motor: { power: 15 kW, baseSpeed: 5000 rpm }
    maxSpeed: 7200 rpm
  wheels:
    medium:
      geometry: { diameter: 200 mm, height: 60 mm, vanes: 24, thickness: 3 mm, lean: 30 deg }
      efficiency: rosin-rammler
      maxSpeed: 6000 rpm
air: { flow: 1500 m^3/h, temperature: 20 degC, humidity: 50 % }
settings: { rotorSpeed: 5730 rpm, wheel: medium, wheelSpeed: 1500 rpm, feedRate: 200 kg/h }
`;
const FAN = 'fan: { law: parabola, shutOff: 11 kPa, flow: 1800 m^3/h, pressure: 8 kPa, speed: 95 % }';

describe('a scenario with a plant', () => {
  test('every quantity of the plant has a value and the unit its column names', () => {
    const scenario = parseScenario(
      `${MILL}plant: { ${FAN.replace(' }', ', motorPower: 7.5 kW }')}, product: { highestTemperature: 60 degC, criticalHumidity: 65 % } }`,
    );
    const point = solvePoint(toCase(scenario));
    if (point.status !== 'steady') throw new Error('choked');
    for (const { name, of } of PLANT_QUANTITIES) expect(of(point), name).not.toBeNaN();
    const outcome = outcomeOf(scenario, point);
    if (outcome.status !== 'steady') throw new Error('choked');
    close(outcome.plant!.fanSpeed_pct!, 95, 1e-9);
    close(outcome.plant!.temperatureMargin_K!, 60 - outcome.plant!.productTemperature_C!, 1e-12);
    expect(point.case.air.flow).not.toBe(scenario.air.flow);
    expect(outcome.warnings.map(({ code }) => code)).not.toContain('caking-unknown');
  });
  test('without one they do not exist, and a spec that names one is a fault', () => {
    const point = solvePoint(toCase(parseScenario(MILL)));
    if (point.status !== 'steady') throw new Error('choked');
    expect(quantityNamed('cycloneYield')!.of(point)).toBeNaN();
    expect(() => parseScenario(`${MILL}spec: [ "dewMargin >= 10 K" ]`)).toThrow(/dewMargin needs a plant/);
    expect(() => parseScenario(`${MILL}plant: {}\nspec: [ "dewMargin >= 10 K" ]`)).not.toThrow();
  });
  test('presets carry their evidence; units of the wrong kind and unknown keys are faults', () => {
    const scenario = parseScenario(
      `${MILL}plant: { filter: { bags: 30 }, shafts: { rotorInertia: 0.6 kg m^2, bearingTorque: 2 N m } }`,
    );
    expect(scenario.provenance['plant.filter.bags']!.label).toBe('given');
    expect(scenario.provenance['plant.surroundings.inletLoss']!.label).toBe('assumed');
    expect(toCase(scenario).plant!.shafts).toEqual({ rotorInertia: 0.6, bearingTorque: 2 });
    expect(() => parseScenario(`${MILL}plant: { filter: { bagLength: 2 kg } }`)).toThrow(/bagLength/);
    expect(() => parseScenario(`${MILL}plant: { filter: { baggs: 2 } }`)).toThrow(/bags/);
    expect(() => parseScenario(`${MILL}plant: { fan: { law: parabola, shutOff: 11 kPa } }`)).toThrow(
      /fan\.flow/,
    );
  });
  test('numbers that contradict one another are faults, all at once', () => {
    const faulty = `${MILL}plant: { cyclone: { coneHeight: 5, inletWidth: 0.4 }, fan: { law: parabola, shutOff: 7 kPa, flow: 1800 m^3/h, pressure: 8 kPa } }`;
    expect(() => parseScenario(faulty)).toThrow(
      /plant\.cyclone\.coneHeight.*less than height[\s\S]*plant\.cyclone\.inletWidth[\s\S]*plant\.fan\.shutOff/,
    );
    const points = (last: string) =>
      `${MILL}plant: { fan: { law: table, points: [[0 m^3/h, 9 kPa], [1500 m^3/h, 8 kPa], [2500 m^3/h, ${last}]] } }`;
    expect(() => parseScenario(points('8.5 kPa'))).toThrow(/plant\.fan\.points/);
    expect(() => parseScenario(points('0 kPa'))).not.toThrow();
  });
  test('its numbers can be changed and swept by their paths', () => {
    const scenario = parseScenario(
      `${MILL}plant: { ${FAN} }\nsweep: { factors: { plant.fan.speed: { from: 80 %, to: 100 %, steps: 3 } } }`,
    );
    expect(valueAt(scenario, 'plant.fan.speed')).toBe(0.95);
    const air = (speed: number) => {
      const point = solvePoint(toCase(withValue(scenario, 'plant.fan.speed', speed)), { choke: false });
      if (point.status !== 'steady') throw new Error('choked');
      return point.case.air.flow * 3600;
    };
    const study = compileStudy(studyOf(scenario, { quantities: ['fanPower', 'cycloneYield'] }));
    const { values } = study.evaluate({ first: 0, count: 3 });
    const column = (name: string) => {
      const at = study.columns.findIndex((each) => each.name === name);
      return [...values.slice(3 * at, 3 * at + 3)];
    };
    [0.8, 0.9, 1].forEach((speed, i) => {
      close(column('airFlow_m3_per_h')[i]!, air(speed), 1e-9);
    });
    for (const power of column('fanPower_kW')) expect(power).toBeGreaterThan(1);
  });
});
