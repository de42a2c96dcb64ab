import { describe, test } from 'vitest';
import { outletTemperature } from '../../src/model/heat.ts';
import { close } from '../close.ts';

describe('heat balance (eq. 25)', () => {
  test('H1: 10 kW into 1000 m³/h (1.204) and 200 kg/h of 900 J/kgK: 25.90 K (derived, cp 1005)', () => {
    const capacity = ((1000 * 1.204) / 3600) * 1005 + (200 / 3600) * 900;
    close(outletTemperature({ fixed: 10e3, hits: 0, lean: 0 }, capacity, 293.15) - 293.15, 25.9, 1e-3);
  });
  test('H2: 30 kW, 1500 m³/h (1.204), 500 kg/h sugar 1244 J/kgK, all 20 °C: 64.283 °C (derived, cp 1006)', () => {
    const capacity = ((1500 * 1.204) / 3600) * 1006 + (500 / 3600) * 1244;
    close(outletTemperature({ fixed: 30e3, hits: 0, lean: 0 }, capacity, 293.15) - 273.15, 64.283, 1e-4);
  });
  test('the balance closes where powers depend on the temperature itself', () => {
    const inlet = 293.15;
    const sources = { fixed: 4e3, hits: 9e3, lean: 700 };
    const capacity = 520;
    const T = outletTemperature(sources, capacity, inlet);
    const power = sources.fixed + (sources.hits * inlet) / T + (sources.lean * T) / inlet;
    close(inlet + power / capacity, T, 1e-15);
  });
});
