import { describe, test } from 'vitest';
import { dragCoefficient, dragShape, settlingVelocity, slipCorrection } from '../../src/model/drag.ts';
import { close } from '../close.ts';

/** Schiller & Naumann 1935 (recalled): C_D = 24/Re (1 + 0.15 Re^0.687), Re < 1000. */
const schillerNaumann = (re: number) => (24 / re) * (1 + 0.15 * re ** 0.687);

describe('drag (eq. 18)', () => {
  test('D1: measured spheres, Morsi & Alexander, J. Fluid Mech. 55 (1972) 193, within 10 %', () => {
    const measured = [
      [1, 26.5],
      [10, 4.1],
      [100, 1.07],
      [200, 0.77],
      [1000, 0.46],
    ] as const;
    for (const [re, drag] of measured) close(dragCoefficient(dragShape(1), re), drag, 0.1);
  });
  test('D2: Haider & Levenspiel, Powder Technol. 58 (1989) 63, at Re 10', () => {
    close(dragCoefficient(dragShape(1), 10), 4.410591, 1e-5);
    close(dragCoefficient(dragShape(0.8), 10), 4.773522, 1e-5);
    close(dragCoefficient(dragShape(0.6), 10), 5.930982, 1e-5);
  });
  test('D3: settling in air at 20 °C, density 1600 (derived, Schiller & Naumann)', () => {
    const settle = (x: number) => settlingVelocity(x, 1600, 1.20411, 1.81341e-5, schillerNaumann);
    close(settle(10e-6), 4.7895e-3, 1e-4);
    close(settle(100e-6), 0.37504, 1e-4);
  });
  test('D4: 0.208 mm in water, and at 30 g (Han 1997, ASEE problem set)', () => {
    const drag = (re: number) => (24 / re) * (1 + 0.14 * re ** 0.7);
    const settle = (g: number) => settlingVelocity(0.208e-3, 1800, 994.6, 8.931e-4, drag, g);
    close(settle(9.80665), 0.0157816, 1e-5);
    close(settle(30 * 9.80665), 0.206021, 1e-5);
  });
  test('A7: slip correction, Davies, Proc. Phys. Soc. 57 (1945) 259, mean free path 0.0651 µm', () => {
    close(slipCorrection(0.1e-6, 0.0651e-6), 2.8604, 1e-4);
    close(slipCorrection(1e-6, 0.0651e-6), 1.1637, 1e-4);
    close(slipCorrection(10e-6, 0.0651e-6), 1.0164, 1e-4);
  });
});
