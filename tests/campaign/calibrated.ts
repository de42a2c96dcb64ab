import { parse } from 'yaml';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { calibrationFile } from '../../src/trials/calibration/write.ts';
import { withCoefficients } from '../../src/trials/fit/coefficients.ts';
import type { Fit } from '../../src/trials/fit/fit.ts';

/** A scenario that has taken up the calibration file of a fit. */
export function calibrated(scenario: Scenario, fit: Fit): Scenario {
  const head = { scenario: '', log: 'trials.csv', trials: ['1'], date: '2026-01-31' };
  const there = withCoefficients(scenario, fit.prior.coefficients, fit.mean);
  return { ...there, calibration: parse(calibrationFile(fit, head)) };
}
