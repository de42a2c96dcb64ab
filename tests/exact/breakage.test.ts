import { describe, expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { SELECTION_LAWS } from '../../src/model/breakage/selection/index.ts';
import { close } from '../close.ts';

describe('breakage laws', () => {
  test('B1 (eq. 12): two-power Φ .5 γ .8 β 4 at 0.1, 0.5 (derived)', () => {
    const law = FRAGMENT_LAWS['two-power']!;
    const choice = { law: 'two-power', fineShare: 0.5, fineExponent: 0.8, coarseExponent: 4 };
    close(law.undersize(choice, 0.1e-3, 1e-3), 0.0792947, 1e-6);
    close(law.undersize(choice, 0.5e-3, 1e-3), 0.3184246, 1e-6);
  });
  test('B2 (eq. 11): impact fragments q .8, y 100, x′ 1 at 1, 10, 50 µm (derived)', () => {
    const law = FRAGMENT_LAWS.impact!;
    const choice = { law: 'impact', exponent: 0.8, finesScale: 1e-6 };
    close(law.undersize(choice, 1e-6, 100e-6), 0.01255943, 1e-6);
    close(law.undersize(choice, 10e-6, 100e-6), 0.15848932, 1e-7);
    close(law.undersize(choice, 50e-6, 100e-6), 0.57434918, 1e-7);
  });
  test('B3 (eq. 7): impact probability f .5, 100 µm, 100 m/s, c .05: one hit, three hits; 10 µm exactly none (derived)', () => {
    const law = SELECTION_LAWS.impact!;
    const choice = { law: 'impact', friability: 0.5, threshold: 0.05 };
    const hit = { speed: 100, energy: 5000 };
    const once = law.probability(choice, 100e-6, hit);
    close(once, 0.20148378, 1e-7);
    close(1 - (1 - once) ** 3, 0.49084358, 1e-7);
    expect(law.probability(choice, 10e-6, hit)).toBe(0);
  });
  test('B4 (eq. 9): log-energy, limestone 1 mm, 1000 J/kg (Cho & Austin, Powder Technol. 132 (2003) 161)', () => {
    const choice = { law: 'log-energy', slope: 0.235, energy: 130, exponent: 0.58, referenceSize: 1e-3 };
    close(
      SELECTION_LAWS['log-energy']!.probability(choice, 1e-3, { speed: 44.7, energy: 1000 }),
      0.47945,
      1e-4,
    );
  });
});
