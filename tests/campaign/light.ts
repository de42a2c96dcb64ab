import type { Effort } from '../../src/trials/fit/sample.ts';

/** A sample that gives best coefficients and their covariance, not the ends of intervals. */
export const FEW: Effort = {
  look: { evaluations: 900, effective: 15, most: 1200 },
  walkers: 36,
  chain: { burnIn: 24, least: 20, most: 20, effective: 0 },
};
