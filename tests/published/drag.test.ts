import { describe, test } from 'vitest';
import { dragCoefficient, dragShape, slipCorrection } from '../../src/model/drag.ts';
import { close } from '../close.ts';

describe('drag', () => {
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
  test('A7: slip correction, Davies, Proc. Phys. Soc. 57 (1945) 259, mean free path 0.0651 µm', () => {
    close(slipCorrection(0.1e-6, 0.0651e-6), 2.8604, 1e-4);
    close(slipCorrection(1e-6, 0.0651e-6), 1.1637, 1e-4);
    close(slipCorrection(10e-6, 0.0651e-6), 1.0164, 1e-4);
  });
});
