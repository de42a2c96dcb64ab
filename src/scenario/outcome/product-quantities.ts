import { sizeAt, undersizeAt } from '../../model/psd/curve.ts';
import { massMeanSize, sauterMeanSize, span, specificSurface } from '../../model/psd/statistics.ts';
import { entry, NUMBER, PERCENT, SIZE } from './entry.ts';
import type { Quantity, Solved } from './quantity.ts';
import { curveOf } from './solved.ts';

/** Percentile x_p of the product; any p above 0 and below 100 %. */
export const percentile = (percent: number): Quantity =>
  entry(
    'product',
    `x${percent}`,
    `x${percent}`,
    SIZE,
    `size below which ${percent} % of the product's mass lies`,
    ({ curve }) => sizeAt(curve, percent / 100),
  );

/** What the product is like. */
export const PRODUCT: readonly Quantity[] = [
  ...[10, 50, 90, 95, 97, 99].map(percentile),
  entry(
    'product',
    'span',
    '(x90 − x10)/x50',
    NUMBER,
    'width of the product over its median size',
    ({ curve }) => span(curve),
  ),
  entry('product', 'd32', 'x̄_{1,2}', SIZE, 'Sauter mean size', ({ curve }) => sauterMeanSize(curve)),
  entry('product', 'd43', 'x̄_{1,3}', SIZE, 'mass-mean size', ({ curve }) => massMeanSize(curve)),
  entry(
    'product',
    'surface',
    'S_m',
    ['m^2/kg', 'm^2/kg', 'm2_per_kg'],
    'specific surface from the size curve, 6/(ρ ψ_s d32)',
    productSurface,
  ),
  {
    ...entry('product', 'passing', 'Q(x)', PERCENT, 'share of the product finer than a size', at(1)),
    argument: 'size',
  },
  {
    ...entry('product', 'oversize', '1 − Q(x)', PERCENT, 'share of the product coarser than a size', at(-1)),
    argument: 'size',
  },
];

function at(side: 1 | -1): Quantity['of'] {
  return ({ curve }, size) => {
    const below = undersizeAt(curve, size!);
    return side === 1 ? below : 1 - below;
  };
}

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
