import { InputError } from '../errors.ts';
import { blankInactive } from './activity.ts';
import { coordinateAt } from './coordinate.ts';
import { type CompiledDesign, DEFAULT_POINTS, type Design, type DesignSetup } from './design.ts';
import { SOBOL_DIMENSIONS, sobolCoordinate, sobolDirections } from './sequence/sobol.ts';

/** Sobol points, scrambled by the seed; even in every projection, and best at a power of two. */
export const sobol: Design = {
  name: 'sobol',
  summary: 'quasi-random points, even in every projection; more can be added later',
  counts: 'by points',
  extends: true,
  compile: ({ factors, points, seed, activity }: DesignSetup): CompiledDesign => {
    refuseTooMany(factors.length, SOBOL_DIMENSIONS);
    const directions = sobolDirections(factors.length);
    return {
      size: points ?? DEFAULT_POINTS,
      fill: (index, coordinates) => {
        for (let j = 0; j < factors.length; j++) {
          coordinates[j] = coordinateAt(factors[j]!, sobolCoordinate(directions, index, j, seed));
        }
        blankInactive(coordinates, activity);
      },
    };
  },
};

/** @throws InputError where a design has more factors than its sequence reaches */
export function refuseTooMany(factors: number, limit: number): void {
  if (factors <= limit) return;
  const message = `this design takes at most ${limit} factors, here are ${factors}; try latin-hypercube`;
  throw new InputError([{ place: 'sweep.factors', message }]);
}
