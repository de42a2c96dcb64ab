import { describe, expect, test } from 'vitest';
import { annulusArea, freeHitsPerPass, riseSpeed, timeBetweenHits } from '../../src/model/rotor.ts';
import { PILOT } from '../cases.ts';
import { close } from '../close.ts';

/** Eq. 4 worked by hand for the pilot rotor at 100 turns a second. */
const { rotor } = PILOT;
const with_ = (
  geometry: Partial<typeof rotor.geometry>,
  coefficients: Partial<typeof rotor.coefficients> = {},
) => ({
  ...rotor,
  geometry: { ...rotor.geometry, ...geometry },
  coefficients: { ...rotor.coefficients, ...coefficients },
});

describe('hits per pass (eq. 4, derived)', () => {
  test('the ring between the feet of the elements and the liner: radii 130 and 160 mm', () => {
    close(annulusArea(rotor.geometry), Math.PI * (0.16 ** 2 - 0.13 ** 2), 1e-14);
    close(riseSpeed(0.4, rotor.geometry), 14.635, 1e-5);
  });
  test('0.8333 ms of waiting and 1.4147 ms of flight between two hits; 0.9119 hits in 2.0499 ms', () => {
    // v_tip = 94.2478 m/s; 2 · 10 mm/(0.15 · 94.2478 m/s) = 1.41471 ms; 30 mm/14.6350 m/s = 2.04988 ms
    close(timeBetweenHits(rotor, 100), 2.248044e-3, 1e-6);
    close(freeHitsPerPass(rotor, 100, 14.635), 0.91185, 1e-5);
    const pair = with_({}, { hitFactor: 2, linerFactor: 1.5 });
    close(freeHitsPerPass(pair, 100, 14.635), 3 * freeHitsPerPass(rotor, 100, 14.635), 1e-14);
  });
  test('a rotor at rest hits nothing', () => {
    expect(freeHitsPerPass(rotor, 0, 14.635)).toBe(0);
  });
  test('many elements come to (h/v_z) ψ v_tip/2s, and never beyond', () => {
    const limit = ((0.03 / 14.635) * 0.15 * Math.PI * 0.3 * 100) / (2 * 0.01);
    const at = (count: number) => freeHitsPerPass(with_({ count }), 100, 14.635);
    for (const count of [6, 12, 24, 48, 100, 1000]) expect(at(count)).toBeLessThan(limit);
    close(at(1e9), limit, 1e-6);
    expect(at(24) / at(12)).toBeLessThan(2);
    expect(at(48) / at(24)).toBeLessThan(at(24) / at(12));
  });
  test('equal under scaling of all lengths at equal tip speed and Q ∝ D²', () => {
    const twice = with_({ diameter: 0.6, height: 0.06, width: 0.04, gap: 0.02 });
    const small = freeHitsPerPass(rotor, 100, riseSpeed(0.4, rotor.geometry));
    close(freeHitsPerPass(twice, 50, riseSpeed(1.6, twice.geometry)), small, 1e-14);
  });
  test('a closer gap hits more often exactly where ψ v_tip < 2 w · count · N', () => {
    // at ψ = 2 w count/(π D) = 0.5093 of the pilot the gap cancels but for the ring's mean radius
    const slope = (returnRatio: number) => {
      const at = (gap: number) => {
        const own = with_({ gap, diameter: 30, count: 1200 }, { returnRatio });
        return freeHitsPerPass(own, 1, riseSpeed(1, own.geometry));
      };
      return at(0.011) - at(0.01);
    };
    expect(slope(0.5)).toBeLessThan(0);
    expect(slope(0.52)).toBeGreaterThan(0);
  });
});
