import type { Evaluated, JointDensity } from './density.ts';
import { type LevelIndex, levelsWeight } from './error-levels.ts';

/** Where a walker of the ensemble stands. */
export interface Place {
  readonly point: Evaluated;
  readonly index: LevelIndex;
  /** ln of the likelihood of the curves and of the powers. */
  readonly sizes: number;
  readonly powers: number;
  /** ln π. */
  readonly density: number;
}

/** A walker at a point with given levels. */
export function placeAt({ errors }: JointDensity, point: Evaluated, index: LevelIndex): Place {
  const sizes = errors.ofSizes(point.residuals, index);
  const powers = errors.ofPowers(point.residuals, index);
  return { point, index, sizes, powers, density: point.prior + levelsWeight(index) + sizes + powers };
}
