import type { Matrix } from 'ml-matrix';
import type { Posterior } from '../../trials/fit/fit.ts';

/** A coefficient with the standard error of its logarithm before and after a trial. */
export interface Determined {
  /** Path of the coefficient in the scenario file. */
  readonly path: string;
  readonly symbol: string;
  readonly before: number;
  readonly after: number;
}

const SHOWN_COEFFICIENTS = 2;

/** Coefficients a trial is expected to determine most. */
export function determined({ prior }: Posterior, from: Matrix, to: Matrix): readonly Determined[] {
  return prior.coefficients
    .map(({ path, symbol, wheel }, i) => ({
      path,
      symbol: wheel === undefined ? symbol : `${symbol} of ${wheel}`,
      before: Math.sqrt(from.get(i, i)),
      after: Math.sqrt(to.get(i, i)),
    }))
    .sort((a, b) => a.after / a.before - b.after / b.before)
    .slice(0, SHOWN_COEFFICIENTS);
}
