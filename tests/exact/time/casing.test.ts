import { describe, expect, test } from 'vitest';
import { casingAfter, casingOf, thermometerAt, warmAfter, warmUp } from '../../../src/model/time/casing.ts';
import { rundown, speedAfter } from '../../../src/plant/coast-down.ts';
import { casesUnderTrips } from '../../../src/plant/trips.ts';
import { PILOT } from '../../cases.ts';
import { close } from '../../close.ts';

const c = { ...PILOT, air: { ...PILOT.air, temperature: 293.15 } };

describe('the casing (eq. 28)', () => {
  test('the pilot’s numbers grow with D² and D³; a run in time ends on the steady loss', () => {
    const pilot = casingOf(c);
    close(pilot.exchange, 30, 1e-12);
    close(pilot.heatCapacity, 200e3, 1e-12);
    expect(pilot.loss).toBe(0);
    const large = casingOf({
      ...c,
      rotor: { ...c.rotor, geometry: { ...c.rotor.geometry, diameter: 0.6 } },
      loop: { ...c.loop, casingLoss: 30 },
    });
    close(large.exchange, 120, 1e-12);
    close(large.heatCapacity, 1.6e6, 1e-12);
    // 40 W/K outside and 120 W/K inside in series are 30 W/K
    close(large.loss, 40, 1e-12);
  });
  test('10 kW into 503 + 112.5 W/K: 15.49 K at once, 16.25 K at rest, by hand', () => {
    // C_0 = 0.5 kg/s · 1006 + 0.0833 kg/s · 1350 = 615.5; θ(0) = 10 000/(615.5 + 30), θ_∞ = 10 000/615.5
    const casing = { exchange: 30, loss: 0, heatCapacity: 200e3 };
    const flow = 615.5;
    const step = 1;
    let warmth = 0;
    let integral = 0;
    const rises: number[] = [];
    for (let second = 0; second <= 7200; second++) {
      const rise = (10e3 + casing.exchange * warmth) / (flow + casing.exchange);
      rises.push(rise);
      integral += flow * rise * step;
      warmth = casingAfter(casing, warmth, rise, 0, step);
    }
    close(rises[0]!, 15.491866, 1e-6);
    // τ = C_c (C_0 + U_i)/(U_i C_0) = 6991.6 s
    const tau = (200e3 * 645.5) / (30 * 615.5);
    for (const time of [60, 600, 3600, 7200])
      close(rises[time]!, (10e3 / 615.5) * (1 - (30 / 645.5) * Math.exp(-time / tau)), 1e-5);
    // the casing holds what the air did not carry off
    close(10e3 * 7201 - integral, 200e3 * warmth, 1e-3);
  });
  test('the closed form agrees with its own rate and limits', () => {
    const casing = casingOf(c, { exchange: 60, heatCapacity: 300e3 });
    const steady = 310;
    const { first, slow } = warmUp(c, casing);
    close(thermometerAt(c, steady, 0, casing), 293.15 + first * (steady - 293.15), 1e-12);
    close(thermometerAt(c, steady, Number.POSITIVE_INFINITY, casing), steady, 1e-12);
    close(thermometerAt(c, steady, slow, casing) - 293.15, 16.85 * (1 - (1 - first) / Math.E), 1e-9);
    const late = warmAfter(c, 16.85, 0.5, casing);
    close(steady - thermometerAt(c, steady, late, casing), 0.5, 1e-9);
    expect(warmAfter(c, 5, 1, casing)).toBe(0);
  });
});

describe('coast-down against time', () => {
  test.each([
    [0.19, 2e-4, 0],
    [0.19, 0, 0.8],
    [0.19, 2e-4, 0.8],
  ])('J %d, a %d, M %d: the speed after the run-down’s time is the speed it was asked for', (J, a, M) => {
    const { toSlow, toRest } = rundown(J, a, M, 600, 60);
    close(speedAfter(J, a, M, 600, toSlow), 60, 1e-9);
    if (M > 0) {
      expect(speedAfter(J, a, M, 600, toRest * 1.001)).toBe(0);
      expect(speedAfter(J, a, M, 600, toRest * 0.99)).toBeGreaterThan(0);
    }
  });
  test('only what trips slows, from its own time on, and nothing rises', () => {
    const at = casesUnderTrips(c, [
      { at: 10, trip: 'wheel' },
      { at: 20, trip: 'fan' },
    ]);
    expect(at(9)).toBe(c);
    expect(at(60).settings.wheelSpeed).toBeLessThan(c.settings.wheelSpeed);
    expect(at(60).settings.rotorSpeed).toBe(c.settings.rotorSpeed);
    expect(at(15).air.flow).toBe(c.air.flow);
    close(at(25).air.flow / c.air.flow, 0.5, 1e-9);
    expect(at(600).settings.wheelSpeed).toBeLessThan(at(60).settings.wheelSpeed);
  });
});
