import { describe, expect, test } from 'vitest';
import { solve } from '../../../src/model/loop/solve.ts';
import { discDrag, rotorDrag, rundown } from '../../../src/plant/coast-down.ts';
import { plantAt } from '../../../src/plant/plant-state.ts';
import { plantFrom, type StatedPlant } from '../../../src/plant/presets.ts';
import { screenPlant } from '../../../src/plant/safety/dust-screening.ts';
import { PILOT } from '../../cases.ts';
import { close } from '../../close.ts';

/** J dω/dt = −(M + aω²) by the classical Runge–Kutta method, until ω is below an end. */
function steppedRundown(inertia: number, drag: number, friction: number, from: number, to: number): number {
  const slope = (w: number) => -(friction + drag * w * w) / inertia;
  const h = 1e-3;
  let [w, t] = [from, 0];
  for (;;) {
    const k1 = slope(w);
    const k2 = slope(w + (h / 2) * k1);
    const k3 = slope(w + (h / 2) * k2);
    const k4 = slope(w + h * k3);
    const next = w + (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    if (next <= to) return t + (h * (w - to)) / (w - next);
    w = next;
    t += h;
  }
}

describe('run-down (eq. P25, P26)', () => {
  test('the closed forms against stepping the equation of motion', () => {
    const [J, a, M] = [0.6, 4e-5, 0.8];
    close(rundown(J, a, M, 600, 5).toSlow, steppedRundown(J, a, M, 600, 5), 1e-6);
    close(rundown(J, a, M, 600, 5).toRest, steppedRundown(J, a, M, 600, 0), 1e-6);
    close(rundown(J, a, 0, 600, 20).toSlow, steppedRundown(J, a, 0, 600, 20), 1e-6);
    close(rundown(J, 0, M, 600, 5).toSlow, steppedRundown(J, 0, M, 600, 5), 1e-6);
    close(rundown(J, a, 1e-9, 600, 20).toSlow, rundown(J, a, 0, 600, 20).toSlow, 1e-6);
  });
  test('air alone never brings a shaft to rest, and a slow one needs no time to be slow', () => {
    expect(rundown(0.6, 4e-5, 0, 600, 5).toRest).toBeNaN();
    expect(rundown(0.6, 4e-5, 1, 3, 5).toSlow).toBe(0);
  });
  test('the drag takes the idle power c_0 ρ N³ D⁵ of eq. 22', () => {
    const N = 95;
    close(rotorDrag(0.8, 1.204, 0.3) * (2 * Math.PI * N) ** 3, 0.8 * 1.204 * N ** 3 * 0.3 ** 5, 1e-13);
  });
  test('E3: free disc, R 0.15 m, 6000 rpm, both sides: 105.75 W (coefficient published)', () => {
    const w = 2 * Math.PI * 100;
    close(discDrag(w, 0.15, 1.204, 1.813e-5) * w ** 3, 105.75, 2e-3);
  });
});

describe('screening of the plant', () => {
  const stateOf = (stated: StatedPlant) => {
    const state = solve(PILOT);
    if (state.status !== 'steady') throw new Error('choked');
    return plantAt(PILOT, state, plantFrom(stated));
  };
  test('missing inertia is an unknown hazard; a given one tells how long the shaft runs on', () => {
    const of = (stated: StatedPlant) =>
      screenPlant(stateOf(stated)).lines.find(({ item }) => item === 'run-down: rotor')!;
    expect(of({}).standing).toBe('unknown hazard');
    const known = of({ shafts: { rotorInertia: 0.6, bearingTorque: 0.5 } });
    expect(known.standing).toBe('hazard');
    expect(known.finding).toMatch(/about \d+ s to standstill/);
    expect(of({ shafts: { rotorInertia: 0.6 } }).finding).toMatch(/not known without the bearing torque/);
  });
  test('a cloud above the lower limit is a hazard; one below is to be judged, not cleared', () => {
    const lines = screenPlant(stateOf({ dust: { lowerLimit: 0.03 } })).lines;
    const standing = (place: string) => lines.find(({ item }) => item === `dust cloud: ${place}`)!.standing;
    expect(standing('mill and wheel')).toBe('hazard');
    expect(standing('product line and cyclone inlet')).toBe('hazard');
    expect(standing('cyclone outlet to filter')).toBe('to be judged');
  });
  test('every line has its caution, and no line calls anything safe', () => {
    const { lines } = screenPlant(
      stateOf({
        dust: {
          kst: 120e5,
          ignitionEnergy: 0.02,
          cloudTemperature: 700,
          layerTemperature: 600,
          oxygenLimit: 0.1,
        },
      }),
    );
    for (const { caution } of lines) expect(caution.length).toBeGreaterThan(20);
    expect(JSON.stringify(lines)).not.toMatch(/\bis safe\b|no hazard/i);
  });
});

describe('heat and moisture (eq. P20, P21)', () => {
  const moistureOf = (product: Record<string, number>, air = {}) => {
    const c = { ...PILOT, air: { ...PILOT.air, ...air } };
    const state = solve(c);
    if (state.status !== 'steady') throw new Error('choked');
    return plantAt(c, state, plantFrom({ product })).moisture;
  };
  const codes = (warnings: readonly { readonly code: string }[]) => warnings.map(({ code }) => code);
  test('air of 50 % at 20 °C, heated and cooled back in store, is at 50 % again', () => {
    const { storedHumidity, humidity } = moistureOf({});
    close(storedHumidity, 0.5, 1e-12);
    expect(humidity).toBeLessThan(0.25);
  });
  test('a product that cakes above 45 % or stands 30 °C gets its caution', () => {
    expect(codes(moistureOf({ criticalHumidity: 0.45 }).warnings)).toContain('caking');
    expect(codes(moistureOf({ criticalHumidity: 0.65 }).warnings)).not.toContain('caking');
    expect(codes(moistureOf({ highestTemperature: 303.15 }).warnings)).toContain('product-temperature');
  });
  test('a cold wall is held against the dew point', () => {
    const { dewPoint, dewMargin, warnings } = moistureOf({ coldestWall: 278.15 });
    close(dewMargin, 278.15 - dewPoint, 1e-12);
    expect(dewMargin).toBeLessThan(0);
    expect(codes(warnings)).toContain('dew-point');
  });
});
