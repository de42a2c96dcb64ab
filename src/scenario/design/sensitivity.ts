import { InputError } from '../errors.ts';
import { blankInactive } from './activity.ts';
import { coordinateAt } from './coordinate.ts';
import { type CompiledDesign, DEFAULT_POINTS, type Design, type DesignSetup } from './design.ts';
import { SOBOL_DIMENSIONS, sobolCoordinate, sobolDirections } from './sequence/sobol.ts';
import { refuseTooMany } from './sobol.ts';

/**
 * Points in groups of d + 2 for variance-based sensitivity: A, B, then A with each factor in turn taken from B, both
 * from one Sobol sequence of 2d dimensions (published: Saltelli et al., Comput. Phys. Commun. 181 (2010) 259).
 */
export const sensitivity: Design = {
  name: 'sensitivity',
  summary:
    'pairs of points with one factor exchanged, the sharpest for sensitivity indices; more can be added',
  counts: 'by points',
  extends: true,
  compile: ({ factors, points, seed, activity }: DesignSetup): CompiledDesign => {
    const d = factors.length;
    refuseTooMany(d, Math.floor(SOBOL_DIMENSIONS / 2));
    const group = d + 2;
    const groups = Math.floor((points ?? DEFAULT_POINTS) / group);
    if (groups < 2) {
      const message = `${d} factors need groups of ${group} points; set ${2 * group} or more`;
      throw new InputError([{ place: 'sweep.points', message }]);
    }
    const directions = sobolDirections(2 * d);
    return {
      size: groups * group,
      fill: (index, coordinates) => {
        const row = Math.floor(index / group);
        const member = index % group;
        for (let j = 0; j < d; j++) {
          const fromB = member === 1 || member === j + 2;
          const u = sobolCoordinate(directions, row, fromB ? d + j : j, seed);
          coordinates[j] = coordinateAt(factors[j]!, u);
        }
        blankInactive(coordinates, activity);
      },
    };
  },
};
