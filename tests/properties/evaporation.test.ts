import { expect, test } from 'vitest';
import { humidityRatio, inletAir, saturationPressure, VAPOUR_RATIO } from '../../src/model/air.ts';
import type { Case } from '../../src/model/case.ts';
import { solve } from '../../src/model/loop/solve.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';
import { uniform, wideCase } from '../reference/random-cases.ts';

const HEAT = 2.454e6;

function wet(random: () => number): Case {
  const c = wideCase(random);
  const between = (a: number, b: number) => a + (b - a) * random();
  return changed(c, {
    air: { temperature: between(263, 320), pressure: between(7e4, 1.08e5), humidity: random() },
    loop: { evaporation: 0.5 * random() ** 2, casingLoss: random() < 0.5 ? 0 : between(0, 50) },
  });
}

/** Where the whole balance would rest without any power: C (T_in − T) = L m_dry (W_s(T) − W_in), by bisection. */
function saturationTemperature(c: Case): number {
  const { massFlow, humidityRatio: inlet } = inletAir(c.air);
  const [own] = c.components;
  const capacity = massFlow * 1006 + c.settings.feedRate * own!.material.heatCapacity + c.loop.casingLoss;
  const dry = massFlow / (1 + inlet);
  let [low, high] = [200, c.air.temperature];
  for (let k = 0; k < 100; k++) {
    const middle = (low + high) / 2;
    const taken = HEAT * dry * (humidityRatio(middle, c.air.pressure, 1) - inlet);
    if (taken > capacity * (c.air.temperature - middle)) high = middle;
    else low = middle;
  }
  return low;
}

test('evaporation stops where the outlet air is saturated, over random mills, air and moistures', () => {
  const random = uniform(404);
  let capped = 0;
  let free = 0;
  for (let i = 0; i < 400; i++) {
    const c = wet(random);
    const { conditions } = solve(c, { choke: false });
    const { temperature, humidityRatio: ratio, evaporated, waterLeft } = conditions;
    const water = c.settings.feedRate * c.loop.evaporation;
    const humidity = (c.air.pressure * ratio) / (VAPOUR_RATIO + ratio) / saturationPressure(temperature);
    expect(evaporated).toBeGreaterThanOrEqual(0);
    expect(waterLeft).toBeGreaterThanOrEqual(0);
    close(evaporated + waterLeft, water, 1e-12);
    expect(humidity).toBeLessThan(1 + 1e-9);
    expect(temperature).toBeGreaterThan(saturationTemperature(c) - 1e-6);
    // the balance of heat: powers in, less what evaporates
    const { massFlow } = inletAir(c.air);
    const capacity =
      massFlow * 1006 + c.settings.feedRate * c.components[0]!.material.heatCapacity + c.loop.casingLoss;
    const powers = conditions.rotorPower + conditions.wheelPower;
    const closure = capacity * (temperature - c.air.temperature) - powers + evaporated * HEAT;
    expect(Math.abs(closure)).toBeLessThan(1e-9 * (powers + capacity * c.air.temperature));
    if (waterLeft > 1e-9 * water) {
      capped++;
      expect(humidity).toBeGreaterThan(1 - 1e-6);
    } else free++;
  }
  expect(capped).toBeGreaterThan(50);
  expect(free).toBeGreaterThan(50);
});
test('more water cools the outlet down to saturation, and no further', () => {
  const at = (evaporation: number) =>
    solve(changed(PILOT, { loop: { evaporation } }), { choke: false }).conditions;
  let before = at(0).temperature;
  for (const evaporation of [0.01, 0.02, 0.03, 0.04]) {
    expect(at(evaporation).waterLeft).toBe(0);
    expect(at(evaporation).temperature).toBeLessThan(before - 2);
    before = at(evaporation).temperature;
  }
  const [ten, fifty] = [at(0.1), at(0.5)];
  expect(ten.waterLeft).toBeGreaterThan(0);
  close(fifty.temperature, ten.temperature, 1e-9);
  close(fifty.evaporated, ten.evaporated, 1e-6);
  // air of 20 °C and 50 % rests at 13.8 °C; the powers keep the outlet above
  expect(ten.temperature).toBeGreaterThan(273.15 + 13.8);
});
