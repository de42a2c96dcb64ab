import { describe, expect, test } from 'vitest';
import { finestShare, sauterMeanSize } from '../../src/model/psd/statistics.ts';
import { productSurface } from '../../src/scenario/outcome/product-quantities.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { changed, PILOT } from '../cases.ts';
import { close } from '../close.ts';

function solved(exponent: number, smallestSize = 1e-7, components = PILOT.components) {
  const c = changed(
    { ...PILOT, components },
    { material: { fragments: { law: 'impact', exponent, finesScale: 1e-6 } }, loop: { smallestSize } },
  );
  const point = solvePoint(c, { choke: false });
  if (point.status !== 'steady') throw new Error('the pilot case is steady');
  return point;
}

describe('surface of the product', () => {
  test('is 6/(ρ ψ d32) of one component', () => {
    const point = solved(2);
    close(productSurface(point), 6 / (1590 * 0.85 * sauterMeanSize(point.curve)), 1e-12);
  });
  test('of a component split in two equal halves is that of the whole; twice the density, half the surface', () => {
    const [component] = PILOT.components;
    const half = { ...component!, share: 0.5 };
    const split = solved(2, 1e-7, [half, { ...half, material: solved(2).case.components[0]!.material }]);
    close(productSurface(split), productSurface(solved(2)), 1e-9);
    const components = split.case.components.map(({ material, ...rest }) => ({
      ...rest,
      material: { ...material, density: 2 * material.density },
    }));
    close(
      productSurface({ ...split, case: { ...split.case, components } }),
      productSurface(split) / 2,
      1e-12,
    );
  });
  test('is given where a finer grid changes it little, and left out where it would grow', () => {
    const given = [1e-7, 1e-8].map((smallest) => sauterMeanSize(solved(2, smallest).curve));
    close(given[0]!, given[1]!, 1e-3);
    const curve = solved(0.5).curve;
    expect(finestShare(curve, -1)).toBeGreaterThan(0.2);
    expect(sauterMeanSize(curve)).toBeNaN();
  });
});
