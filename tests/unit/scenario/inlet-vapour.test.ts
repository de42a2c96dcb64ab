import { expect, test } from 'vitest';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { readText, scenarioText } from './reading.ts';

const warmAir = (humidity: string) =>
  readText(scenarioText({ air: `{ flow: 1500 m^3/h, temperature: 60 degC, humidity: ${humidity} }` }));

test('inlet air whose vapour is above a tenth of the pressure is refused, with the humidity of heated room air', () => {
  // steam tables: 19.93 kPa at 60 °C, 2.339 kPa at 20 °C
  expect(toCase(warmAir('50.5 %')).air.humidity).toBeCloseTo(0.505, 12);
  expect(() => warmAir('51.2 %')).toThrow(
    /air\.humidity.*vapour 10\.1 % of the pressure, must be at most 10 %.*has 5\.9 %/,
  );
});
