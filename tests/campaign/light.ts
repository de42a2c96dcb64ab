import type { Effort } from '../../src/trials/fit/sample.ts';

/** A sample that gives best coefficients and their covariance, not the ends of intervals. */
export const FEW: Effort = {
  look: { evaluations: 600, effective: 10, most: 800 },
  walkers: 32,
  chain: { burnIn: 20, second: 4, surrogate: 30, least: 10, most: 10, effective: 0 },
};

/** A sample that gives the ends of 95 % intervals roughly: half the effective draws of a fit's own. */
export const FAIR: Effort = {
  look: { evaluations: 800, effective: 12, most: 1200 },
  walkers: 40,
  chain: { burnIn: 28, second: 10, surrogate: 120, least: 15, most: 60, effective: 100 },
};
