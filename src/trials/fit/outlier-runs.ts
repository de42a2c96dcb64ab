import { chiSquareTail } from '../chi-square.ts';
import { leastSquares, type Solution } from '../least-squares.ts';
import type { Prior } from './coefficients.ts';
import type { Comparison } from './compare.ts';
import { misfitOf } from './misfit.ts';
import { fitProblem } from './problem.ts';

/** Trials from which on one can stand out against the others. */
const FEWEST = 3;

/**
 * Runs without which the others fit, likeliest first: a wrong entry in the log rather than a wrong model. Where leaving out
 * any of many would do, none stands out.
 *
 * @param measured trials with measuring errors alone
 * @param solution of all of them
 * @param limit chance of χ² from which on the model is said to fit
 */
export function suspectRuns(
  prior: Prior,
  measured: readonly Comparison[],
  solution: Solution,
  limit: number,
): string[] {
  if (measured.length < FEWEST) return [];
  const found = measured.flatMap((one) => {
    const rest = measured.filter((other) => other !== one);
    const without = leastSquares(fitProblem(prior, rest), solution.parameters);
    if (!without) return [];
    const { chiSquare, freedom } = misfitOf(without, rest);
    const chance = chiSquareTail(chiSquare, freedom);
    return chance >= limit ? [{ name: one.trial.name, chance }] : [];
  });
  if (found.length > measured.length / 3) return [];
  return found.sort((a, b) => b.chance - a.chance).map(({ name }) => name);
}
