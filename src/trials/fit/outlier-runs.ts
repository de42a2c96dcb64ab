import { chiSquareTail } from '../chi-square.ts';
import { leastSquares, type Solution } from '../least-squares.ts';
import type { MeasurementErrors, Trial } from '../trial.ts';
import type { Prior } from './coefficients.ts';
import { type Comparison, prepareComparison } from './compare.ts';
import { MODEL_FLOOR } from './error-levels.ts';
import { misfitOf } from './misfit.ts';
import { fitProblem } from './problem.ts';

/** What would mend a fit: one run or two left out, or the size files of two runs exchanged. */
export interface Suspicion {
  readonly kind: 'left out' | 'exchanged';
  readonly runs: readonly string[];
  /** Σ r² it takes away. */
  readonly gain: number;
}

/** Trials from which on one can stand out against the others, and two. */
const FEWEST = 3;
const FEWEST_FOR_PAIRS = 6;
/** Chance of what a suspicion takes away, were the run a correct one, below which it is decisive; shared by all that are tried. */
const DECISIVE = 1e-3;
/** An exchange takes no data away: so much of Σ r² and more is decisive, e^−10 in likelihood. */
const DECISIVE_EXCHANGE = 20;
/** Iterations of a fit that says whether a suspicion mends, and of one that only says which exchanges to look at. */
const ENOUGH = 20;
const ROUGH = 4;
const LIKELY = 3;
/** A second suspicion that mends nearly as much leaves open which it is. */
const APART = 6;

/**
 * The one wrong entry of the log that mends the fit decisively: every run left out, every exchange of two size files, and of
 * six runs and more every pair left out. Runs are weighed with the model's usual error, so that a law a little off accuses no
 * run; where two suspicions mend alike, none is named.
 *
 * @param used trials
 * @param solution of all of them
 * @param limit chance of χ² from which on the model is said to fit
 */
export function suspicionOf(
  prior: Prior,
  used: readonly Trial[],
  errors: MeasurementErrors,
  solution: Solution,
  limit: number,
): Suspicion | undefined {
  if (used.length < FEWEST) return undefined;
  const ready = (trial: Trial): Comparison => prepareComparison(trial, errors, MODEL_FLOOR);
  const all = used.map(ready);
  const fitted = (
    comparisons: readonly Comparison[],
    iterations = ENOUGH,
    starts: readonly (readonly number[])[] = [solution.parameters],
  ): { cost: number; fits: boolean } | undefined => {
    const problem = { ...fitProblem(prior, comparisons), iterations };
    const found = starts.flatMap((start) => leastSquares(problem, start) ?? []);
    if (found.length === 0) return undefined;
    const best = found.reduce((a, b) => (b.cost < a.cost ? b : a));
    const { chiSquare, freedom } = misfitOf(best, comparisons);
    return { cost: best.cost, fits: chiSquareTail(chiSquare, freedom) >= limit };
  };
  const before = fitted(all, ENOUGH, [solution.parameters, prior.mean]);
  if (!before || before.fits) return undefined;
  const groups = [...all.map((_, i) => [i]), ...(all.length >= FEWEST_FOR_PAIRS ? pairsOf(all.length) : [])];
  const found: Suspicion[] = [];
  for (const group of groups) {
    const after = fitted(all.filter((_, i) => !group.includes(i)));
    const gain = before.cost - (after?.cost ?? Number.POSITIVE_INFINITY);
    const taken = group.reduce((sum, i) => sum + all[i]!.length, 0);
    if (after?.fits && chiSquareTail(gain, taken) < DECISIVE / groups.length)
      found.push({ kind: 'left out', runs: group.map((i) => used[i]!.name), gain: gain - taken });
  }
  for (const [i, j] of likelyExchanges(used, (turned) => fitted(turned.map(ready), ROUGH)?.cost)) {
    const turned = exchanged(used, i, j).map(ready);
    const after = fitted(turned, ENOUGH, [solution.parameters, prior.mean]);
    const gain = before.cost - (after?.cost ?? Number.POSITIVE_INFINITY);
    if (after?.fits && gain > DECISIVE_EXCHANGE)
      found.push({ kind: 'exchanged', runs: [used[i]!.name, used[j]!.name], gain });
  }
  return decisive(found);
}

/** The exchanges that a rough fit likes best. */
function likelyExchanges(
  used: readonly Trial[],
  costOf: (turned: readonly Trial[]) => number | undefined,
): [number, number][] {
  return pairsOf(used.length)
    .filter(([i, j]) => used[i]!.sizes && used[j]!.sizes)
    .map(([i, j]) => ({ pair: [i, j] as [number, number], cost: costOf(exchanged(used, i, j)) }))
    .flatMap(({ pair, cost }) => (cost === undefined ? [] : [{ pair, cost }]))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, LIKELY)
    .map(({ pair }) => pair);
}

/** The trials with the sizes of two of them in each other's place. */
function exchanged(used: readonly Trial[], i: number, j: number): Trial[] {
  return used.map((trial, k) =>
    k === i ? withSizesOf(trial, used[j]!) : k === j ? withSizesOf(trial, used[i]!) : trial,
  );
}

/** The suspicion that explains most with least; a pair only where neither of it alone would do. */
function decisive(found: readonly Suspicion[]): Suspicion | undefined {
  const singles = found.filter(({ kind, runs }) => kind === 'left out' && runs.length === 1);
  const candidates = found.filter(
    ({ kind, runs }) => kind === 'exchanged' || runs.length === 1 || singles.length === 0,
  );
  const [best, second] = [...candidates].sort((a, b) => b.gain - a.gain);
  if (!best) return undefined;
  return second && best.gain - second.gain < APART ? undefined : best;
}

function pairsOf(count: number): [number, number][] {
  return Array.from({ length: count }, (_, i) =>
    Array.from({ length: count - 1 - i }, (_, k): [number, number] => [i, i + 1 + k]),
  ).flat();
}

function withSizesOf(trial: Trial, other: Trial): Trial {
  const { sizes: _sizes, repeats: _repeats, ...rest } = trial;
  return {
    ...rest,
    ...(other.sizes ? { sizes: other.sizes } : {}),
    ...(other.repeats === undefined ? {} : { repeats: other.repeats }),
  };
}
