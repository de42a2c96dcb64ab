import { describe, test } from 'vitest';
import { type Fragments, tabulateFragments } from '../../src/model/loop/prepared-materials.ts';
import { passageMatrix } from '../../src/model/loop/stages.ts';
import { solveTriangular } from '../../src/model/loop/triangular.ts';
import { close } from '../close.ts';
import { gridOf } from '../grid.ts';

/**
 * Four classes, coarse to fine in the source: S = 1, .6, .3, 0; b21 .5 b31 .3 b41 .2, b32 .6 b42 .4, b43 1 (derived,
 * two routes). Here class 3 is the coarsest.
 */
const packed = Float64Array.from([1, 1, 0, 0.4, 0.6, 0, 0.2, 0.3, 0.5, 0]);
const FOUR: Fragments = { kind: 'matrix', packed, escaping: Float64Array.from([0, 1, 1, 1]) };
const S = Float64Array.from([0, 0.3, 0.6, 1]);

function pass(stages: number, tau: number): number[] {
  const perPass = S.map((s) => s * tau);
  const p = passageMatrix(stages, FOUR, perPass);
  return Array.from(p.subarray(3 * 4, 4 * 4)).reverse();
}

describe('four classes (rows R1 to R4, derived)', () => {
  test('R1 (eq. 26a): batch of t = 1 is plug flow', () => {
    pass(Number.POSITIVE_INFINITY, 1).forEach((value, i) => {
      close(value, [0.36787944, 0.22616524, 0.20809442, 0.19786089][i]!, 1e-7);
    });
  });
  test('R2: one mixed stage of τ = 1, three of τ = 1/3', () => {
    pass(1, 1).forEach((value, i) => {
      close(value, [0.5, 0.15625, 0.15865385, 0.18509615][i]!, 1e-7);
    });
    pass(3, 1).forEach((value, i) => {
      close(value, [0.421875, 0.19603588, 0.1883224, 0.19376672][i]!, 1e-7);
    });
  });
  test('R3 (eq. 26): hold-up form with a wheel', () => {
    const leaving = Float64Array.from([0.95, 0.6, 0.1, 0], (d) => 2 * d);
    const holdup = new Float64Array(4);
    solveTriangular(FOUR, leaving, S, Float64Array.from([0, 0.1, 0.3, 0.6]), holdup);
    Array.from(holdup)
      .reverse()
      .forEach((value, i) => {
        close(value, [0.6, 0.75, 0.36666667, 0.21578947][i]!, 2e-8);
      });
    const product = Array.from(holdup, (h, i) => h * leaving[i]!).reverse();
    product.forEach((value, i) => {
      close(value, [0, 0.15, 0.44, 0.41][i]!, 1e-8);
    });
  });
  test('R4: pass form with a given passage matrix', () => {
    // P rows of the source: .2 0 0 0 / .4 .4 0 0 / .24 .36 .7 0 / .16 .24 .3 1; the triangular loop around it by hand
    const P = [
      [0.2, 0, 0, 0],
      [0.4, 0.4, 0, 0],
      [0.24, 0.36, 0.7, 0],
      [0.16, 0.24, 0.3, 1],
    ];
    const T = [1, 0.9, 0.4, 0.05];
    const f = [0.6, 0.3, 0.1, 0];
    const h: number[] = [];
    for (let i = 0; i < 4; i++) {
      let reached = P[i]![i]! * f[i]!;
      for (let j = 0; j < i; j++) reached += P[i]![j]! * (f[j]! + T[j]! * h[j]!);
      h.push(reached / (1 - P[i]![i]! * T[i]!));
    }
    const p = h.map((value, i) => value * (1 - T[i]!));
    p.forEach((value, i) => {
      close(value, [0, 0.065625, 0.47552083, 0.45885417][i]!, 1e-8);
    });
    close(h.reduce((sum, value) => sum + value, 0) - 1, 1.08178911, 1e-8);
  });
});

/** S·B(x,y) = κ x^a: power law fragments with S = κ y^a. */
function powerCase(edges: readonly number[], cut: number, rate: number, a = 1) {
  const grid = gridOf(edges);
  const { sizes, classes: n } = grid;
  const fragments = tabulateFragments(grid, { law: 'power', exponent: a });
  const breakage = sizes.map((x) => x ** a);
  const leaving = sizes.map((x) => (x < cut ? rate : 0));
  const feed = new Float64Array(n);
  feed[n - 1] = 1;
  const holdup = new Float64Array(n);
  const total = solveTriangular(fragments, leaving, breakage, feed, holdup);
  const product = Array.from(holdup, (h, i) => h * leaving[i]!);
  const undersizeAt = (x: number) => {
    let sum = 0;
    for (let i = 0; i < n && edges[i + 1]! <= x * (1 + 1e-12); i++) sum += product[i]!;
    return sum;
  };
  return { total, product, undersizeAt };
}

describe('sharp wheel, S·B independent of the parent (eq. V2, derived)', () => {
  test('R5: product, hold-up and circulating load, an edge at the cut', () => {
    const edges = [1e-3, 0.01, 0.025, 0.06, 0.125, 0.2, 0.225, 0.25, 0.4, 0.7, 1];
    const { total, undersizeAt } = powerCase(edges, 0.25, 2);
    close(undersizeAt(0.025), 1 / 9, 1e-10);
    close(undersizeAt(0.125), 9 / 17, 1e-10);
    close(undersizeAt(0.225), 81 / 89, 1e-10);
    close(total, 4.5, 1e-10);
    close(2 * total - 1, 8, 1e-10);
  });
  test('any exponent, any grid with an edge at the cut', () => {
    for (const a of [0.5, 1.3, 2]) {
      const edges = [1e-4, ...Array.from({ length: 23 }, (_, i) => 0.001 * 1.4 ** i)].filter((x) => x < 0.3);
      edges.push(0.3, 0.55, 1.1);
      const { total, undersizeAt } = powerCase(edges, 0.3, 2, a);
      close(total, 1 / 2 + 1 / 0.3 ** a, 1e-12);
      const x = edges[10]!;
      close(1 - undersizeAt(x), (1 - (x / 0.3) ** a) / (1 + x ** a / 2), 1e-12);
    }
  });
});
