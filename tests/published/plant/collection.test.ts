import { describe, expect, test } from 'vitest';
import { inParallel, inSeries } from '../../../src/plant/collection.ts';
import { CYCLONES } from '../../../src/plant/cyclone/index.ts';
import { lappleCut, lappleEfficiency } from '../../../src/plant/cyclone/lapple.ts';
import { fanPower } from '../../../src/plant/fan.ts';
import { bagCount, clothArea } from '../../../src/plant/filter.ts';
import { frictionFactor, hydraulicDiameter, saltationVelocity } from '../../../src/plant/pipe.ts';
import { filledLaw } from '../../../src/plant/presets.ts';
import { close } from '../../close.ts';

describe('collection and air side', () => {
  test('C1 (eq. P10): Lapple cyclone, worked example of Cooper & Alley (data recalled; book 6.3 µm, ~68 %)', () => {
    const flow = 150 / 60;
    const velocity = flow / (0.25 * 0.5);
    const cut = lappleCut(2.08333e-5, 0.25, 6, velocity, 1600 - 1.01);
    close(cut, 6.23544e-6, 1e-4);
    close(cut, 6.3e-6, 1.5e-2);
    const classes = [
      [0, 2, 1],
      [2, 4, 9],
      [4, 6, 10],
      [6, 10, 30],
      [10, 18, 30],
      [18, 30, 14],
      [30, 50, 5],
      [50, 100, 1],
    ] as const;
    const overall = classes.reduce((sum, [low, high, share]) => {
      return sum + share * lappleEfficiency(((low + high) / 2) * 1e-6, cut);
    }, 0);
    close(overall, 68.316, 1e-4);
    const law = CYCLONES.lapple!;
    const state = law.separate(filledLaw(law), 1, {
      flow,
      airDensity: 1.01,
      viscosity: 2.08333e-5,
      sizes: Float64Array.from([6.23544e-6]),
      streams: [{ density: 1600, rates: Float64Array.from([1e-3]) }],
      bulkDensity: 600,
      approach: velocity,
    });
    close(state.pressureLoss, 1616, 1e-3);
    close(state.kept[0]![0]!, 0.5, 1e-4);
  });
  test('C2 (eq. P16): cyclones in series and in parallel, 2.0 µm particles (Cimbala, lecture 30)', () => {
    const first = lappleEfficiency(2e-6, 10e-6);
    const second = lappleEfficiency(2e-6, 2.5e-6);
    close(100 * inSeries([first, second]), 41.37, 1e-4);
    close(
      inParallel([
        { flow: 1, efficiency: 0.8 },
        { flow: 3, efficiency: 0.4 },
      ]),
      0.5,
      1e-12,
    );
  });
  test('C3 (eq. P17): bags of 0.1 × 5 m for 5 m³/s at 2 m/min', () => {
    const area = clothArea(5, 2 / 60);
    close(area, 150, 1e-12);
    expect(bagCount(area, 0.1, 5)).toBe(96);
  });
  test('C4 (eq. P18): fan, 20 000 cfm at 4 in of water and 72 % is 17.48 hp (published)', () => {
    // inches of water at 68 °F, 248.64 Pa each, as fan practice counts them
    close(fanPower(20000 * 4.719474e-4, 4 * 248.64, 0.72) / 745.7, 17.48, 1e-3);
  });
  test('C5 (eq. P7): duct 350 × 200 mm, 500 L/s, roughness 0.09 mm (ASHRAE duct design)', () => {
    const diameter = hydraulicDiameter(0.35, 0.2);
    const velocity = 0.5 / (0.35 * 0.2);
    const friction = frictionFactor((velocity * diameter * 1.204) / 1.81e-5, 0.09e-3 / diameter);
    close(friction, 0.0191, 1e-2);
    close(((friction / diameter) * 1.204 * velocity ** 2) / 2, 2.3, 1e-2);
  });
  test('C6 (eq. P8): saltation velocity of Rizk (Rhodes, via the documentation of the fluids package)', () => {
    close(saltationVelocity(0.25, 100e-6, 1.2, 0.078), 9.8833, 1e-4);
  });
});
