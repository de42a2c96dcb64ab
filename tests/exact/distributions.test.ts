import { describe, expect, test } from 'vitest';
import type { LawChoice } from '../../src/model/parameters.ts';
import { buildCurve, fillSlopes, sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { componentFeed, FEED_LAWS } from '../../src/model/psd/feed/index.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { SIEVES } from '../../src/model/psd/sieves.ts';
import { massMeanSize, sauterMeanSize, span, specificSurface } from '../../src/model/psd/statistics.ts';
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

describe('distributions (eq. S2, S3, S4; derived, 1e-5)', () => {
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
  test('on the grid of the program, 8 classes per octave, the means are within 1e-4, closer than sums over middles', () => {
    const grid = buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 });
    const choice = { law: 'log-normal', x50: 20e-6, spread: 0.5 };
    const feed = componentFeed(grid, choice);
    const undersize = new Float64Array(grid.classes + 1);
    feed.forEach((share, i) => {
      undersize[i + 1] = undersize[i]! + share;
    });
    const slopes = new Float64Array(grid.classes + 1);
    fillSlopes(undersize, grid.logRatio, slopes);
    const curve = { edges: grid.edges, undersize, slopes };
    const sauter = 20e-6 * Math.exp(-(0.5 ** 2) / 2);
    const massMean = 20e-6 * Math.exp(0.5 ** 2 / 2);
    close(sauterMeanSize(curve), sauter, 1e-4);
    close(massMeanSize(curve), massMean, 1e-4);
    const middles = 1 / feed.reduce((sum, share, i) => sum + share / grid.sizes[i]!, 0);
    expect(Math.abs(sauterMeanSize(curve) / sauter - 1)).toBeLessThan(Math.abs(middles / sauter - 1));
    // 6/(ρ ψ d32): 1500 kg/m³, sphericity 0.8
    close(specificSurface(curve, 1500, 0.8), 6 / (1500 * 0.8 * sauter), 1e-4);
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
