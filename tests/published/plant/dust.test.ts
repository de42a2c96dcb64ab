import { describe, expect, test } from 'vitest';
import { SAFETY_CHECKLIST } from '../../../src/plant/safety/checklist.ts';
import { dustClass, frictionSpeed } from '../../../src/plant/safety/dust-data.ts';
import { screenDust } from '../../../src/plant/safety/plant-screening.ts';
import { close } from '../../close.ts';

describe('dust screening', () => {
  test('X1 (eq. P22): class from K_St (OSHA CPL 03-00-008)', () => {
    const pairs = [
      [0, 0],
      [200, 1],
      [200.1, 2],
      [300, 2],
      [300.1, 3],
    ] as const;
    for (const [kst, st] of pairs) expect(dustClass(kst * 1e5)).toBe(st);
  });
  test('X2 (eq. P23): friction limit of 1 m/s at R 0.2, 0.3, 0.5 m (derived)', () => {
    close(frictionSpeed(1, 0.2) * 60, 47.7, 1e-3);
    close(frictionSpeed(1, 0.3) * 60, 31.8, 1e-3);
    close(frictionSpeed(1, 0.5) * 60, 19.1, 1e-3);
  });
  test('without data every line about the dust is an unknown hazard, and nothing is ever called safe', () => {
    const mill = { rims: [{ part: 'rotor', speed: 90 }], temperature: 310 };
    const lines = screenDust({}, mill, [{ place: 'exit air', concentration: 0.2 }]);
    expect(lines.filter(({ standing }) => standing === 'unknown hazard').length).toBeGreaterThanOrEqual(6);
    const words = JSON.stringify([lines, SAFETY_CHECKLIST]).toLowerCase();
    expect(words).not.toMatch(/\bis safe\b|\bsafe to\b|no hazard/);
    for (const { caution } of lines) expect(caution.length).toBeGreaterThan(10);
    const known = screenDust({ kst: 0 }, mill, []);
    expect(known[0]!.standing).toBe('to be judged');
  });
});
