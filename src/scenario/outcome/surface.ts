import { specificSurface } from '../../model/psd/statistics.ts';
import type { Solved } from './quantity.ts';
import { curveOf } from './solved.ts';

/**
 * Specific surface of the whole product: 6/(ρ ψ_s d32), by mass over components, each with its own density, sphericity and
 * size curve.
 *
 * @returns [m²/kg]; NaN where it depends on sizes finer than the grid resolves
 */
export function productSurface({ case: c, state, curve }: Solved): number {
  if (c.components.length === 1) {
    const { density, sphericity } = c.components[0]!.material;
    return specificSurface(curve, density, sphericity);
  }
  let mass = 0;
  let surface = 0;
  state.components.forEach(({ product }, index) => {
    const own = product.reduce((sum, p) => sum + p, 0);
    const { density, sphericity } = c.components[index]!.material;
    if (own > 0) surface += own * specificSurface(curveOf(state.grid, product), density, sphericity);
    mass += own;
  });
  return surface / mass;
}
