import { describe, expect, test } from 'vitest';
import { fragmentMatrix } from '../../src/model/breakage/matrix.ts';
import { tabulateFragments } from '../../src/model/loop/prepared-materials.ts';
import { passageMatrix } from '../../src/model/loop/stages.ts';
import { solveTriangular } from '../../src/model/loop/triangular.ts';
import { buildCurve, sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';
import { close } from '../close.ts';

function cumulative(edges: Float64Array, masses: ArrayLike<number>) {
  const undersize = new Float64Array(edges.length);
  for (let i = 0; i < masses.length; i++) undersize[i + 1] = undersize[i]! + masses[i]!;
  const whole = undersize.at(-1)!;
  return buildCurve(
    edges,
    undersize.map((value) => value / whole),
  );
}

/** R6: random binary splitting, S = v, B = (v/y)² in volume v; from size 1 to t = 5 is a plug-flow pass. */
function splitting(classesPerOctave: number): number[] {
  const grid = buildGrid({ smallest: 1e-4, top: 1, classesPerOctave, centreAt: 1 });
  const fragments = tabulateFragments(grid, { law: 'power', exponent: 2 });
  const n = grid.classes;
  const passage = passageMatrix(
    Number.POSITIVE_INFINITY,
    fragments,
    grid.sizes.map((v) => 5 * v),
  );
  const curve = cumulative(grid.edges, passage.subarray((n - 1) * n, n * n));
  return [0.1, 0.25, 0.5].map((v) => undersizeAt(curve, v));
}

/** R7: smooth logistic wheel κ .6, x50 .25, r 4, κ-rate 1, a 1, x0 1. */
function smoothWheel(classesPerOctave: number): number[] {
  const grid = buildGrid({ smallest: 1e-4, top: 1, classesPerOctave, centreAt: 1 });
  const law = EFFICIENCY_LAWS.logistic!;
  const shape = law.shape(0.6, { law: 'logistic' });
  const leaving = grid.sizes.map((x) => 4 * law.passing(x / 0.25, shape, { law: 'logistic' }));
  const feed = new Float64Array(grid.classes);
  feed[grid.classes - 1] = 1;
  const holdup = new Float64Array(grid.classes);
  const total = solveTriangular(
    tabulateFragments(grid, { law: 'power', exponent: 1 }),
    leaving,
    grid.sizes,
    feed,
    holdup,
  );
  const curve = cumulative(
    grid.edges,
    holdup.map((h, i) => h * leaving[i]!),
  );
  return [...[0.5, 0.9, 0.97].map((share) => sizeAt(curve, share)), total];
}

function largestError(values: readonly number[], wanted: readonly number[]): number {
  return Math.max(...values.map((value, i) => Math.abs(value / wanted[i]! - 1)));
}

describe('exact cases on the class grid', () => {
  test('R6 binary splitting (eq. V6; Ziff & McGrady 1985, checked by substitution): within 6e-3 at 8 per octave, second order', () => {
    const wanted = [0.12053054, 0.44489696, 0.81530875];
    const exact = (v: number) => 1 - Math.exp(-v * 5) * (1 + v * 5 * (1 - v));
    wanted.forEach((value, i) => {
      close(exact([0.1, 0.25, 0.5][i]!), value, 1e-7);
    });
    const errors = [8, 16, 32].map((k) => largestError(splitting(k), wanted));
    console.info(`binary splitting: errors ${errors.map((e) => e.toExponential(2)).join(', ')}`);
    expect(errors[0]).toBeLessThan(6e-3);
    expect(Math.log2(errors[0]! / errors[2]!) / 2).toBeGreaterThan(1.7);
  });
  test('R7 smooth wheel (eq. V5): within 3e-3 at 8 per octave, second order', () => {
    const wanted = [0.205653, 0.451405, 0.623358, 2.566036];
    const errors = [8, 16, 32].map((k) => largestError(smoothWheel(k), wanted));
    console.info(`smooth wheel: errors ${errors.map((e) => e.toExponential(2)).join(', ')}`);
    expect(errors[0]).toBeLessThan(3e-3);
    expect(Math.log2(errors[0]! / errors[1]!)).toBeGreaterThan(1.7);
  });
  test('fate of one size (eq. V4): mean visits 1/(D + K(1 − b_jj)) and chance to leave unbroken', () => {
    const grid = buildGrid({ smallest: 1e-3, top: 1, classesPerOctave: 8 });
    const choice = { law: 'two-power', fineShare: 0.4, fineExponent: 0.7, coarseExponent: 3 };
    const packed = fragmentMatrix(grid, choice);
    const fragments = tabulateFragments(grid, choice);
    const j = 50;
    const feed = new Float64Array(grid.classes);
    feed[j] = 1;
    const leaving = grid.sizes.map(() => 0.3);
    const breakage = grid.sizes.map((x) => 2 * x);
    const arriving = new Float64Array(grid.classes);
    solveTriangular(fragments, leaving, breakage, feed, arriving);
    const escaping = 1 - packed[(j * (j + 1)) / 2 + j]!;
    close(arriving[j]!, 1 / (0.3 + breakage[j]! * escaping), 1e-13);
  });
});
