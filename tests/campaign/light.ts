import type { Effort } from '../../src/trials/fit/sample.ts';

/** A sample that gives best coefficients and their covariance, not the ends of intervals. */
export const FEW: Effort = {
  look: { evaluations: 600, effective: 10, most: 800 },
  walkers: 32,
  chain: { burnIn: 20, second: 4, surrogate: 30, least: 10, most: 10, effective: 0 },
};
