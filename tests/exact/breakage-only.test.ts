import { describe, expect, test } from 'vitest';
import { tabulateFragments } from '../../src/model/loop/prepared-materials.ts';
import { passageMatrix } from '../../src/model/loop/stages.ts';
import { buildGrid } from '../../src/model/psd/grid.ts';
import { close } from '../close.ts';

/**
 * Oversize at every class edge after breakage alone, K(x) = x^a for every parent (S = y^a, B = (x/y)^a), from feed in
 * the coarsest class of the grid (eq. V1).
 */
function oversizeAtEdges(a: number, stages: number, time: number): (readonly [number, number])[] {
  const grid = buildGrid({ smallest: 1e-3, top: 1, classesPerOctave: 6 });
  const n = grid.classes;
  const rates = grid.sizes.map((x) => time * x ** a);
  const passage = passageMatrix(stages, tabulateFragments(grid, { law: 'power', exponent: a }), rates);
  const found = passage.subarray((n - 1) * n, n * n);
  const oversize: (readonly [number, number])[] = [];
  let above = 0;
  for (let i = n - 1; i > 0; i--) {
    above += found[i]!;
    oversize.push([grid.edges[i]!, above]);
  }
  return oversize;
}

describe('breakage alone where S·B does not depend on the parent: exact at every class edge (derived)', () => {
  test.each([0.5, 1, 1.7])(
    'batch R = e^(−Kt), exponent %f (Reid, Chem. Eng. Sci. 20 (1965) 953 for 1)',
    (a) => {
      const found = oversizeAtEdges(a, Number.POSITIVE_INFINITY, 3);
      expect(found.length).toBeGreaterThan(50);
      for (const [x, oversize] of found) close(oversize, Math.exp(-3 * x ** a), 1e-12);
    },
  );
  test.each([1, 2, 5])('%d mixed stages: R = 1/(1 + Kτ/N)^N', (stages) => {
    for (const [x, oversize] of oversizeAtEdges(1.3, stages, 4))
      close(oversize, (1 + (4 / stages) * x ** 1.3) ** -stages, 1e-12);
  });
});
