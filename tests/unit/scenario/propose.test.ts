import { describe, expect, test } from 'vitest';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { close } from '../../close.ts';
import { read } from './reading.ts';

const asked = (spec: string, more: Readonly<Record<string, string>> = {}) =>
  read({ spec, settings: '{ wheel: medium-leaning, feedRate: 60 kg/h }', ...more });

describe('speeds the file leaves out', () => {
  test.each([30, 45, 75, 106])('put the cut near 0.6 of %d µm in the model itself', (size) => {
    const scenario = asked(`[ "passing(${size} um) >= 95 %" ]`);
    expect(scenario.proposed).toEqual(['rotorSpeed', 'wheelSpeed']);
    const point = solvePoint(toCase(scenario));
    if (point.status !== 'steady') throw new Error('choked');
    // Outlet air is warmer and its flow larger than at the inlet: the cut is a little coarser.
    const ratio = point.state.components[0]!.cutSize / (0.6 * size * 1e-6);
    expect(ratio).toBeGreaterThan(0.99);
    expect(ratio).toBeLessThan(1.1);
  });

  test('look at percentiles too, at the finest of several sizes, and at the cut factor', () => {
    const speed = (spec: string, more = {}) => asked(spec, more).settings.wheelSpeed.value;
    const one = speed('[ "passing(75 um) >= 95 %" ]');
    close(speed('[ "x97 <= 75 um", "passing(150 um) >= 99 %" ]'), one, 1e-12);
    close(speed('[ "75 um >= x95" ]'), one, 1e-12);
    const machine = '{ from: pilot-300, wheels: { medium-leaning: { coefficients: { cutFactor: 0.8 } } } }';
    expect(speed('[ "passing(75 um) >= 95 %" ]', { machine })).toBeLessThan(0.9 * one);
  });

  test('are half and four fifths of the highest where the spec names no size', () => {
    const { settings, machine } = asked('[ "motorLoad <= 90 %", "x50 >= 20 um" ]');
    close(settings.wheelSpeed.value, machine.wheels['medium-leaning']!.maxSpeed / 2, 1e-12);
    close(settings.rotorSpeed.value, 0.8 * machine.rotor.maxSpeed, 1e-12);
  });

  test('never pass the highest allowed', () => {
    const { settings, machine } = asked('[ "passing(1 um) >= 95 %" ]');
    close(settings.wheelSpeed.value, 0.95 * machine.wheels['medium-leaning']!.maxSpeed, 1e-12);
  });

  test('the first wheel is taken where none is chosen, and said', () => {
    const { settings, proposed } = read({
      settings: '{ rotorSpeed: 90 m/s, wheelSpeed: 1500 rpm, feedRate: 60 kg/h }',
    });
    expect(settings.wheel).toBe('medium-radial');
    expect(proposed).toEqual(['wheel']);
  });
});
