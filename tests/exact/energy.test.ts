import { describe, test } from 'vitest';
import { kickEnergy, rittingerEnergy } from '../../src/model/energy.ts';
import { idlePower } from '../../src/model/rotor.ts';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { toShown } from '../../src/scenario/units/display.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';

describe('energy', () => {
  test('E1 (eq. 23a): 75→25 mm from a known 50→10 mm at 13.0 kJ/kg (lecture notes, standard textbook problem)', () => {
    close(rittingerEnergy(13000, 0.05, 0.01, 0.075, 0.025), 4333.3, 1e-3);
    close(kickEnergy(13000, 0.05, 0.01, 0.075, 0.025), 8873.9, 1e-3);
  });
  test('E2 (eq. 3): v²/2 at 100 m/s is 1.388889 kWh/t', () => {
    close(toShown(100 ** 2 / 2, 'kWh/t'), 1.388889, 1e-6);
  });
  test('E3 (eq. 22): a free disc, R 0.15 m at 6000 rpm, both sides, 105.75 W: as an idle number it is 40 times below the bars', () => {
    // moment coefficient 0.146 Re^−1/5 for both sides (published: Schlichting, Boundary-Layer Theory)
    const [R, omega, rho, nu] = [0.15, 2 * Math.PI * 100, 1.204, 1.506e-5];
    const reynolds = (omega * R * R) / nu;
    const power = ((0.146 * reynolds ** -0.2) / 2) * rho * omega ** 3 * R ** 5;
    close(power, 105.75, 2e-3);
    const bars = changed(PILOT, { rotor: { velocityRatio: 1 } }).rotor;
    close(idlePower(bars, 100, 1.204, 0.5), 0.8 * 1.204 * 100 ** 3 * 0.3 ** 5, 1e-14);
  });
  test('specific energy is rotor power over feed rate', () => {
    const point = solvePoint(PILOT);
    if (point.status !== 'steady') throw new Error('choked');
    const { rotorPower } = point.state.conditions;
    close(quantityNamed('specificEnergy')!.of(point), rotorPower / PILOT.settings.feedRate, 1e-15);
  });
});
