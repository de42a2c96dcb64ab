import { describe, expect, test } from 'vitest';
import { FRAGMENT_LAWS } from '../../src/model/breakage/fragments/index.ts';
import { fragmentMatrix } from '../../src/model/breakage/matrix.ts';
import { tabulateFragments } from '../../src/model/loop/prepared-materials.ts';
import { solveTriangular } from '../../src/model/loop/triangular.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { close } from '../close.ts';
import { example } from './examples.ts';

const grid = buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 });

describe.each(Object.values(FRAGMENT_LAWS))('fragment law $name', (law) => {
  const choice = example(law);
  test('all fragments are finer than the parent, and B never falls with size', () => {
    for (const parent of [2e-7, 1e-5, 3e-4, 5e-3]) {
      close(law.undersize(choice, parent, parent), 1, 1e-15);
      let before = 0;
      for (let z = 1e-4; z < 1; z *= 1.02) {
        const here = law.undersize(choice, z * parent, parent);
        expect(here).toBeGreaterThanOrEqual(before - 1e-15);
        expect(here).toBeLessThanOrEqual(1 + 1e-12);
        before = here;
      }
      close(law.undersize(choice, parent * (1 - 1e-9), parent), 1, 1e-6);
    }
  });
  test('class to class: mass conserved, nothing grows, nothing negative', () => {
    const packed = fragmentMatrix(grid, choice);
    for (let j = 0; j < grid.classes; j++) {
      let sum = 0;
      for (let i = 0; i <= j; i++) {
        const share = packed[(j * (j + 1)) / 2 + i]!;
        expect(share).toBeGreaterThanOrEqual(-1e-16);
        sum += share;
      }
      close(sum, 1, 1e-13);
    }
    close(packed[0]!, 1, 1e-15);
  });
  test('the sum of products, where there is one, is B; both routes through the loop agree to 1e-12', () => {
    const terms = law.terms?.(choice);
    if (!terms) {
      expect(tabulateFragments(grid, choice).kind).toBe('matrix');
      return;
    }
    for (const [x, y] of [
      [1e-6, 2e-6],
      [3e-6, 4e-4],
      [1e-4, 1e-3],
    ] as const) {
      const sum = terms.reduce((total, term) => total + term.ofFragment(x) * term.ofParent(y), 0);
      close(sum, law.undersize(choice, x, y), 1e-12);
    }
    const separable = tabulateFragments(grid, choice);
    const packed = fragmentMatrix(grid, choice);
    const escaping = Float64Array.from(grid.sizes, (_, j) =>
      j === 0 ? 0 : 1 - packed[(j * (j + 1)) / 2 + j]!,
    );
    const leaving = Float64Array.from(grid.sizes, (x) => 2e-4 + 0.9 / (1 + (x / 3e-5) ** 4));
    const breakage = Float64Array.from(grid.sizes, (x) => 8 * -Math.expm1(-x / 1e-4));
    const feed = new Float64Array(grid.classes);
    feed[grid.classes - 3] = 0.7;
    feed[40] = 0.3;
    const fast = new Float64Array(grid.classes);
    const slow = new Float64Array(grid.classes);
    const a = solveTriangular(separable, leaving, breakage, feed, fast);
    const b = solveTriangular({ kind: 'matrix', packed, escaping }, leaving, breakage, feed, slow);
    close(a, b, 1e-12);
    fast.forEach((h, i) => {
      close(h, slow[i]!, 1e-12);
    });
  });
  test('says when its parameters are outside what the law means', () => {
    expect(law.outside(choice)).toEqual([]);
  });
});

test('a two-power law with crossed branches warns', () => {
  const crossed = { law: 'two-power', fineShare: 0.5, fineExponent: 4, coarseExponent: 0.8 };
  expect(FRAGMENT_LAWS['two-power']!.outside(crossed)).toHaveLength(1);
});
