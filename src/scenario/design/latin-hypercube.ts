import { blankInactive } from './activity.ts';
import { coordinateAt } from './coordinate.ts';
import { type CompiledDesign, DEFAULT_POINTS, type Design, type DesignSetup } from './design.ts';
import { mix } from './sequence/hash.ts';
import { permuted } from './sequence/permutation.ts';

/**
 * Latin hypercube: each factor's range is cut into as many strata as there are points and each stratum is met once
 * (published: McKay, Beckman & Conover, Technometrics 21 (1979) 239).
 */
export const latinHypercube: Design = {
  name: 'latin-hypercube',
  summary: 'random points that meet each of n slices of every factor once',
  counts: 'by points',
  extends: false,
  compile: ({ factors, points, seed, activity }: DesignSetup): CompiledDesign => {
    const size = points ?? DEFAULT_POINTS;
    const seeds = factors.map((_, j) => mix(j + 1, seed));
    return {
      size,
      fill: (index, coordinates) => {
        for (let j = 0; j < factors.length; j++) {
          const within = mix(index, seeds[j]! ^ 0x5bd1e995) / 2 ** 32;
          coordinates[j] = coordinateAt(factors[j]!, (permuted(index, size, seeds[j]!) + within) / size);
        }
        blankInactive(coordinates, activity);
      },
    };
  },
};
