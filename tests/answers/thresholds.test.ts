import { describe, expect, test } from 'vitest';
import { dewPoint } from '../../src/model/air.ts';
import { plantFaults } from '../../src/plant/faults.ts';
import { moistureState } from '../../src/plant/moisture.ts';
import type { Plant } from '../../src/plant/plant.ts';
import { screenDust } from '../../src/plant/safety/plant-screening.ts';
import { toCase, withValue } from '../../src/scenario/operating-point.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { warningsAt } from '../../src/scenario/outcome/warnings.ts';
import { worthOf } from '../../src/search/compare/value-of-coefficient.ts';
import { UNKNOWNS } from '../../src/search/scale/bands.ts';
import { demo } from './cases.ts';

const STILL = { rims: [], temperature: 300 };

describe('every threshold of the screening, on both sides', () => {
  test('the lower explosible limit: at it a hazard, just below it to be judged', () => {
    const at = (concentration: number) =>
      screenDust({ lowerLimit: 0.06 }, STILL, [{ place: 'filter', concentration }]).find(({ item }) =>
        item.startsWith('dust cloud'),
      )!;
    expect(at(0.06).standing).toBe('hazard');
    expect(at(0.0601).finding).toBe('60 g/m³, at or above the lower limit of 60 g/m³');
    expect(at(0.0594).standing).toBe('to be judged');
    expect(at(0.0594).finding).toBe('59 g/m³, below the lower limit of 60 g/m³ while running steadily');
    expect(
      screenDust({}, STILL, [{ place: 'filter', concentration: 1e-6 }]).find(({ item }) =>
        item.startsWith('dust'),
      )!.standing,
    ).toBe('unknown hazard');
  });

  test('rim speeds: below 1 m/s to be judged, from 1 m/s a hazard, from 10 m/s said so', () => {
    const at = (speed: number) =>
      screenDust({}, { rims: [{ part: 'wheel', speed }], temperature: 300 }, []).find(({ item }) =>
        item.startsWith('friction'),
      )!;
    expect(at(0.99).standing).toBe('to be judged');
    expect(at(1).standing).toBe('hazard');
    expect(at(9.9).finding).toBe('rim at 9.9 m/s, above 1 m/s: contact or tramp metal can ignite a cloud');
    expect(at(10).finding).toBe('rim at 10.0 m/s, above 10 m/s: contact or tramp metal can ignite a cloud');
  });

  test('heat: air as hot as the dust ignites is a hazard, a kelvin cooler to be judged', () => {
    const at = (temperature: number) =>
      screenDust({ layerTemperature: 500 }, { rims: [], temperature }, []).find(({ item }) =>
        item.includes('deposits'),
      )!;
    expect(at(500).standing).toBe('hazard');
    expect(at(499).standing).toBe('to be judged');
  });

  test('the dew point: 10 K above it no word, 9.9 K a caution, at it water condenses', () => {
    const ratio = 0.008;
    const dew = dewPoint(ratio, 101_325);
    const at = (above: number) =>
      moistureState(
        { moisture: 0, storageTemperature: 293.15, coldestWall: dew + above, bulkDensity: 500 },
        { humidityRatio: ratio, pressure: 101_325, temperature: 320, inletTemperature: 293.15 },
      ).warnings.find(({ code }) => code === 'dew-point')?.message;
    expect(at(10.01)).toBeUndefined();
    expect(at(9.9)).toBe(
      'the coldest wall is only 9.9 K above the dew point: keep 10 K, insulate or heat it',
    );
    expect(at(-1)).toBe('water condenses: the coldest wall is 1.0 K below the dew point');
  });

  test('the circulating load: a caution above 80 % of the limit and none below', async () => {
    const scenario = await demo();
    const c = toCase(scenario);
    const point = solvePoint(c);
    if (point.status === 'choked') throw new Error('the demo runs');
    const { loading } = point.state.conditions;
    const warned = (use: number) => {
      const near = withValue(scenario, 'machine.chokeLoad', loading / use);
      const solved = solvePoint(toCase(near));
      return warningsAt(near, solved).some(({ code }) => code === 'near-choke');
    };
    expect(warned(0.79)).toBe(false);
    expect(warned(0.81)).toBe(true);
  });

  test('a cyclone whose parts just fit is accepted, and one whose parts just do not is refused', () => {
    const faults = (cyclone: Record<string, number>) =>
      plantFaults({ cyclone: { law: 'any', ...cyclone } } as unknown as Plant).map(({ place }) => place);
    expect(faults({ outletDiameter: 1 })).toEqual(['cyclone.outletDiameter']);
    expect(faults({ outletDiameter: 0.999, inletWidth: 0.0004 })).toEqual([]);
    expect(faults({ outletDiameter: 0.5, inletWidth: 0.25 })).toEqual([]);
    expect(faults({ outletDiameter: 0.5, inletWidth: 0.2501 })).toEqual(['cyclone.inletWidth']);
    expect(faults({ dustOutlet: 1 })).toEqual([]);
    expect(faults({ dustOutlet: 1.001 })).toEqual(['cyclone.dustOutlet']);
    expect(faults({ coneHeight: 2, height: 2 })).toEqual(['cyclone.coneHeight']);
    expect(faults({ coneHeight: 1.999, height: 2 })).toEqual([]);
  });

  test('a fan whose pressure does not fall is refused', () => {
    const faults = (fan: object) =>
      plantFaults({ cyclone: { law: 'any' }, fan } as unknown as Plant).map(({ place }) => place);
    expect(faults({ law: 'parabola', shutOff: 2000, pressure: 2000 })).toEqual(['fan.shutOff']);
    expect(faults({ law: 'parabola', shutOff: 2001, pressure: 2000 })).toEqual([]);
    expect(
      faults({
        law: 'table',
        points: [
          [0, 2000],
          [1, 2000],
        ],
      }),
    ).toEqual(['fan.points']);
    expect(
      faults({
        law: 'table',
        points: [
          [0, 2000],
          [1, 1999],
        ],
      }),
    ).toEqual([]);
  });
});

test('what a better coefficient is worth is worked out for 15 % more sharpness and half of bypass and leakage', async () => {
  const scenario = await demo();
  const rows = worthOf(scenario, 'medium-leaning', { quantity: 'x95', value: 72e-6 }, 10e-6);
  const coefficients = scenario.machine.wheels['medium-leaning']!.coefficients;
  expect(rows.map(({ coefficient, from, to }) => [coefficient, from, to])).toEqual([
    ['sharpness', coefficients.sharpness, expect.closeTo(1.15 * coefficients.sharpness, 12)],
    ['bypass', coefficients.bypass, expect.closeTo(0.5 * coefficients.bypass, 12)],
    ['leakage', coefficients.leakage, expect.closeTo(0.5 * coefficients.leakage, 12)],
  ]);
});

test('what another machine does not share is spread as documented', () => {
  expect(Object.fromEntries(UNKNOWNS.map(({ name, spread }) => [name, spread]))).toEqual({
    'cut factor of the wheel': 0.15,
    'sharpness of the wheel': 0.1,
    'hit factor of the rotor': 0.2,
    'idle number of the rotor': 0.2,
  });
});
