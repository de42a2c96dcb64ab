import type { Case } from '../../model/case.ts';
import type { Kept } from '../../model/loop/workspace.ts';
import type { SizeCurve } from '../../model/psd/curve.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import { leastSquares } from '../../trials/least-squares.ts';
import { logPercentiles } from './product.ts';

/** Speeds of a machine that come as near a product as they can. */
export interface Match {
  readonly case: Case;
  readonly solved: Solved;
}

/** One per cent of a size weighs one in the sum of squares. */
const SIZE_UNIT = 0.01;
/** How far from where they start the speeds may go, as a factor. */
const REACH = 8;
const STEP = 1e-4;

/**
 * Rotor and wheel speed of a machine, at a given feed and air, whose product is nearest one wanted: Σ (ln x_q/x_q,wanted)²
 * least over seven percentiles, by Levenberg–Marquardt in the logarithms of both speeds.
 *
 * @param c the machine with feed, air and speeds to start from
 * @param wanted curve of the product
 * @returns undefined where the machine chokes where the search starts
 */
export function matchProduct(c: Case, wanted: SizeCurve): Match | undefined {
  const kept: Kept = {};
  const target = logPercentiles(wanted);
  const at = (theta: readonly number[]): Case => ({
    ...c,
    settings: { ...c.settings, rotorSpeed: Math.exp(theta[0]!), wheelSpeed: Math.exp(theta[1]!) },
  });
  const start = [Math.log(c.settings.rotorSpeed), Math.log(c.settings.wheelSpeed)];
  const reach = Math.log(REACH);
  const found = leastSquares(
    {
      residuals: (theta) => {
        const point = solvePoint(at(theta), { kept, choke: false });
        if (point.status === 'choked') return undefined;
        const made = logPercentiles(point.curve);
        // a percentile below the grid tells nothing: it neither pulls nor pushes
        return Float64Array.from(made, (value, i) => {
          const off = (value - target[i]!) / SIZE_UNIT;
          return Number.isFinite(off) ? off : 0;
        });
      },
      lower: start.map((value) => value - reach),
      upper: start.map((value) => value + reach),
      steps: [STEP, STEP],
    },
    start,
  );
  if (!found) return undefined;
  const there = at(found.parameters);
  const point = solvePoint(there);
  return point.status === 'choked' ? undefined : { case: there, solved: point };
}
