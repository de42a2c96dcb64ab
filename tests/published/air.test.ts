import { describe, expect, test } from 'vitest';
import {
  airViscosity,
  dewPoint,
  humidAirDensity,
  humidAirEnthalpy,
  humidityRatio,
  humidityRatioFromWetBulb,
  inletAir,
  meanFreePath,
  pressureAtAltitude,
  saturationPressure,
} from '../../src/model/air.ts';
import { close } from '../close.ts';

const kelvin = (celsius: number) => celsius + 273.15;

describe('humid air (eq. 21)', () => {
  test('A1 density of dry air at 1 atm: the formula, and Çengel, table A-15', () => {
    const temperatures = [0, 15, 20, 50, 100];
    const formula = [1.29227, 1.225, 1.20411, 1.09232, 0.94596];
    const table = [1.292, 1.225, 1.204, 1.092, 0.9458];
    temperatures.forEach((t, i) => {
      close(humidAirDensity(kelvin(t), 101325, 0), formula[i]!, 1e-5);
      close(humidAirDensity(kelvin(t), 101325, 0), table[i]!, 1e-3);
    });
  });
  test('A2 viscosity: the formula, and Çengel, table A-15, within 1 %', () => {
    const temperatures = [0, 15, 20, 50, 100];
    const formula = [1.71608e-5, 1.78938e-5, 1.81341e-5, 1.95355e-5, 2.17341e-5];
    const table = [1.729e-5, 1.802e-5, 1.825e-5, 1.963e-5, 2.181e-5];
    temperatures.forEach((t, i) => {
      close(airViscosity(kelvin(t)), formula[i]!, 1e-5);
      close(airViscosity(kelvin(t)), table[i]!, 1e-2);
    });
  });
  test('A3 saturation pressure, ASHRAE Fundamentals 2017 ch. 1 table 3', () => {
    const pairs = [
      [5, 872.6],
      [25, 3169.7],
      [50, 12351.3],
      [100, 101418],
    ] as const;
    for (const [t, p] of pairs) close(saturationPressure(kelvin(t)), p, 3e-4);
  });
  test('the formulas over ice and over water meet at 0 °C', () => {
    close(saturationPressure(273.1499999), saturationPressure(273.15), 1e-4);
    close(saturationPressure(kelvin(-10)), 259.9, 1e-3); // recalled: ASHRAE table 3, 0.25990 kPa
  });
  test('A4 enthalpy, volume and density, ASHRAE Fundamentals 2017 ch. 1', () => {
    close(humidAirEnthalpy(kelvin(30), 0.02) / 1000, 81.316, 1e-4);
    const density = humidAirDensity(kelvin(30), 95461, 0.02);
    close(1.02 / density, 0.940855, 1e-4);
    close(density, 1.08412, 1e-4);
  });
  test('A5 dry bulb 40 °C, wet bulb 20 °C: the worked example of ASHRAE Fundamentals 2017 ch. 1', () => {
    const ratio = humidityRatioFromWetBulb(kelvin(40), kelvin(20), 101325);
    close(ratio, 0.0065, 2e-2);
    const vapour = (101325 * ratio) / (0.621945 + ratio);
    close(vapour / saturationPressure(kelvin(40)), 0.14, 2e-2);
    close(humidAirEnthalpy(kelvin(40), ratio) / 1000, 56.7, 2e-2);
    close((1 + ratio) / humidAirDensity(kelvin(40), 101325, ratio), 0.896, 2e-2);
  });
  test('A6 standard atmosphere', () => {
    const pairs = [
      [-500, 107478],
      [500, 95461],
      [1000, 89875],
      [4000, 61640],
    ] as const;
    for (const [z, p] of pairs) close(pressureAtAltitude(z), p, 1e-4);
  });
  test('saturated air at 100 °C and 1 atm has no humidity ratio', () => {
    expect(humidityRatio(kelvin(100), 101325, 1)).toBeNaN();
  });
  test('dew point inverts saturation', () => {
    for (const t of [-15, 2, 12, 35]) {
      close(dewPoint(humidityRatio(kelvin(t), 101325, 1), 101325), kelvin(t), 1e-9);
    }
    expect(dewPoint(0, 101325)).toBeNaN();
  });
  test('mean free path at 20 °C and 1 atm is 0.0651 µm within 2 % (recalled: Jennings 1988)', () => {
    close(meanFreePath(kelvin(20), 101325, airViscosity(kelvin(20))), 6.51e-8, 2e-2);
  });
  test('a flow at the normal or standard state carries more air than the same at a warm inlet', () => {
    const air = { flow: 1, temperature: kelvin(20), pressure: 101325, humidity: 0 } as const;
    close(inletAir({ ...air, flowState: 'inlet' }).massFlow, 1.20411, 1e-5);
    close(inletAir({ ...air, flowState: 'standard' }).massFlow, 1.225, 1e-5);
    close(inletAir({ ...air, flowState: 'normal' }).massFlow, 1.29227, 1e-5);
  });
});
