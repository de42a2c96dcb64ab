import type { Solved } from './quantity.ts';

/** Means of the whole product by class. */
export interface ProductStatistics {
  /** d32 [m]. */
  readonly sauter: number;
  /** d43 [m]. */
  readonly massMean: number;
  /** Specific surface [m²/kg]. */
  readonly surface: number;
}

/**
 * d32 = Σp/Σ(p/x), d43 = Σ(p x)/Σp over classes, and the surface Σ 6 p/(ρ ψ x)/Σp with each component's own density
 * and sphericity.
 */
export function productStatistics({ case: c, state }: Solved): ProductStatistics {
  const { sizes } = state.grid;
  let mass = 0;
  let inverse = 0;
  let moment = 0;
  let surface = 0;
  for (let index = 0; index < state.components.length; index++) {
    const { product } = state.components[index]!;
    const { density, sphericity } = c.components[index]!.material;
    let own = 0;
    for (let i = 0; i < sizes.length; i++) {
      const p = product[i]!;
      mass += p;
      own += p / sizes[i]!;
      moment += p * sizes[i]!;
    }
    inverse += own;
    surface += (6 * own) / (density * sphericity);
  }
  return { sauter: mass / inverse, massMean: moment / mass, surface: surface / mass };
}
