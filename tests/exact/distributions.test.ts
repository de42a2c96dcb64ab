import { describe, expect, test } from 'vitest';
import type { LawChoice } from '../../src/model/parameters.ts';
import { buildCurve, sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { SIEVES } from '../../src/model/psd/sieves.ts';
import { massMeanSize, sauterMeanSize, span } from '../../src/model/psd/statistics.ts';
import { close } from '../close.ts';

function curveOf(choice: LawChoice, smallest: number) {
  const law = FEED_LAWS[choice.law]!;
  const n = 12000;
  const top = law.top(choice) * 1.5;
  const edges = Float64Array.from({ length: n + 1 }, (_, i) => smallest * (top / smallest) ** (i / n));
  return buildCurve(
    edges,
    edges.map((x) => law.undersize(choice, x)),
  );
}

describe('distributions (derived, 1e-5)', () => {
  test('RRSB 50 µm, 1.2', () => {
    const curve = curveOf({ law: 'rrsb', x63: 50e-6, exponent: 1.2 }, 1e-16);
    close(sizeAt(curve, 0.1), 7.6654e-6, 1e-5);
    close(sizeAt(curve, 0.5), 36.84042e-6, 1e-5);
    close(sizeAt(curve, 0.9), 100.18816e-6, 1e-5);
    close(sizeAt(curve, 0.97), 142.24517e-6, 1e-5);
    close(span(curve), 2.51145, 1e-5);
    close(massMeanSize(curve), 47.03279e-6, 2e-5);
  });
  test('the Sauter mean of RRSB 50 µm, 1.2 is x′/Γ(1 − 1/n)', () => {
    // 8.98260 µm; the integral converges slowly towards fine sizes, so the curve reaches down to 1e-24 m
    const curve = curveOf({ law: 'rrsb', x63: 50e-6, exponent: 1.2 }, 1e-24);
    close(sauterMeanSize(curve), 8.9826e-6, 1e-3);
  });
  test('log-normal 20 µm, 0.5', () => {
    const curve = curveOf({ law: 'log-normal', x50: 20e-6, spread: 0.5 }, 1e-7);
    close(sizeAt(curve, 0.1), 10.53767e-6, 1e-5);
    close(sizeAt(curve, 0.5), 20e-6, 1e-5);
    close(sizeAt(curve, 0.9), 37.95905e-6, 1e-5);
    close(massMeanSize(curve), 22.66297e-6, 2e-5);
    close(sauterMeanSize(curve), 17.64994e-6, 2e-5);
  });
  test('a Sauter mean that hangs on sizes not resolved is not printed', () => {
    expect(sauterMeanSize(curveOf({ law: 'rrsb', x63: 50e-6, exponent: 0.6 }, 1e-7))).toBeNaN();
  });
  test('three percentiles of a log-normal give it back', () => {
    const points = [0.1, 0.5, 0.9].map(
      (share) =>
        [
          share,
          20e-6 *
            Math.exp(
              0.5 * [-1.2815515655446004, 0, 1.2815515655446004][share === 0.1 ? 0 : share === 0.5 ? 1 : 2]!,
            ),
        ] as const,
    );
    const law = FEED_LAWS.percentiles!;
    const wanted = FEED_LAWS['log-normal']!;
    for (const x of [3e-6, 9e-6, 25e-6, 60e-6]) {
      close(
        law.undersize({ law: 'percentiles', points }, x),
        wanted.undersize({ law: 'log-normal', x50: 20e-6, spread: 0.5 }, x),
        1e-9,
      );
    }
  });
  test('the curve never overshoots, and size and undersize invert each other', () => {
    const edges = Float64Array.from([1, 2, 3, 8, 9, 20, 40]);
    const undersize = Float64Array.from([0, 0.3, 0.3, 0.31, 0.9, 0.99, 1]);
    const curve = buildCurve(edges, undersize);
    let before = 0;
    for (let x = 1; x <= 40; x += 0.01) {
      const here = undersizeAt(curve, x);
      expect(here).toBeGreaterThanOrEqual(before - 1e-15);
      before = here;
    }
    for (const share of [0.305, 0.5, 0.89, 0.95, 0.999])
      close(undersizeAt(curve, sizeAt(curve, share)), share, 1e-12);
    expect(sizeAt(curve, 0.1)).toBeNaN();
  });
  test('sieve openings ASTM E11 / ISO 3310-1 (recalled)', () => {
    const openings = { 100: 150, 140: 106, 170: 90, 200: 75, 230: 63, 270: 53, 325: 45, 400: 38 };
    for (const [mesh, size] of Object.entries(openings)) close(SIEVES[Number(mesh)]!, size * 1e-6, 1e-12);
  });
});
