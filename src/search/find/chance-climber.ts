import type { Scenario } from '../../scenario/scenario.ts';
import {
  type ChanceEnd,
  type ChancePlace,
  type ChanceProblem,
  climbChance,
  placeAt,
} from './chance-search.ts';
import { type FoundPoint, foundPoint } from './find.ts';
import { isBetter, judgeOf } from './objective.ts';
import { spacefilling } from './optimise.ts';
import { isChoked, type SampleBench } from './posterior-margins.ts';
import { panelPoint } from './rounding.ts';
import { coordinateOf, type SearchSpace, shareOf } from './space.ts';

/** Samples of the quick look at every choice, of the search, and of the confirmation. */
export const QUICK = { samples: 60, steps: 6, radius: 0.15 } as const;
const SPREAD = { points: 24, samples: 16 } as const;
export const THOROUGH = { samples: 400, steps: 5, radius: 0.06 } as const;
export const FRESH = 600;
/** Of the fresh samples, those asked about every choice. */
export const FRESH_QUICK = 300;
export const FRESH_SEED = 1_000_003;

/** From where the mean stands best; where that leads nowhere, from the best of some places spread out, too. */
export function quickLook(climber: Climber, confidence: number, seed: number): ChancePlace {
  const first = climber.climb(climber.start, confidence, QUICK, seed);
  if (first.merit.violation === 0) return first;
  const start = spacefilling(climber.start.length, SPREAD.points, seed)
    .map((at) => climber.look(at, confidence, SPREAD.samples))
    .sort(byMerit)[0];
  if (!start) return first;
  const second = climber.climb(start.at, confidence, QUICK, seed);
  return byMerit(first, second) <= 0 ? first : second;
}

export function byMerit(a: ChancePlace, b: ChancePlace): number {
  if (isBetter(a.merit, b.merit)) return -1;
  return isBetter(b.merit, a.merit) ? 1 : 0;
}

/** Standard error of a share counted over so many samples. */
export function errorOf(share: number, samples: number): number {
  return Math.sqrt((share * (1 - share)) / samples);
}

/** The search over the numbers of one combination of choices. */
export interface Climber {
  readonly look: (at: readonly number[], wanted: number, samples: number) => ChancePlace;
  readonly start: readonly number[];
  readonly climb: (
    start: readonly number[] | ChanceEnd,
    wanted: number,
    effort: Parameters<typeof climbChance>[2],
    seed: number,
  ) => ChanceEnd;
  /** The place in numbers a panel can take, as `run` sees it. */
  readonly pointAt: (at: readonly number[]) => FoundPoint;
}

/** A climber from where the model at its mean stands best. */
export function climberOf(
  scenario: Scenario,
  space: SearchSpace,
  bench: SampleBench,
  { coordinates }: FoundPoint,
): Climber {
  const { factors, numbers } = space;
  const { spec, goal } = scenario;
  const judged = { spec, ...(goal ? { goal } : {}) };
  const judge = judgeOf(scenario, factors, judged);
  const coordinatesAt = (at: readonly number[]): Float64Array => {
    const all = Float64Array.from(coordinates);
    numbers.forEach((j, k) => {
      all[j] = coordinateOf(factors[j]!, at[k]!);
    });
    return all;
  };
  const problem: Omit<ChanceProblem, 'wanted'> = {
    dimensions: numbers.length,
    coordinates: coordinatesAt,
    judge,
    bench,
  };
  return {
    start: numbers.map((j) => shareOf(factors[j]!, coordinates[j]!)),
    look: (at, wanted, samples) => placeAt({ ...problem, wanted }, at, samples),
    climb: (start, wanted, effort, seed) => climbChance({ ...problem, wanted }, start, effort, seed),
    pointAt: (at) => foundPoint(scenario, space, panelPoint(coordinatesAt(at), factors, judge), judged),
  };
}

/** How a place stands over so many samples. */
export interface Chances {
  /** Whether each sample meets the whole spec. */
  readonly meets: readonly boolean[];
  /** Share that meets it, and its standard error. */
  readonly whole: number;
  readonly error: number;
  /** Share that meets each line. */
  readonly lines: readonly number[];
  /** Share that chokes. */
  readonly chokes: number;
}

/** Asks so many samples of a place. */
export function chancesAt(
  { lines, ...bench }: SampleBench,
  coordinates: Float64Array,
  samples: number,
): Chances {
  const margins = bench.marginsAt(coordinates, samples);
  const met = new Array<number>(lines).fill(0);
  let chokes = 0;
  const meets = Array.from({ length: samples }, (_, k) => {
    const own = margins.subarray(k * lines, (k + 1) * lines);
    own.forEach((margin, i) => {
      if (margin >= 0) met[i]!++;
    });
    if (isChoked(own[lines - 1]!)) chokes++;
    return own.every((margin) => margin >= 0);
  });
  const whole = meets.filter(Boolean).length / samples;
  return {
    meets,
    whole,
    error: Math.max(errorOf(whole, samples), 1 / samples),
    lines: met.slice(0, -1).map((count) => count / samples),
    chokes: chokes / samples,
  };
}
