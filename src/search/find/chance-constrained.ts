import type { Scenario } from '../../scenario/scenario.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { worldsOf } from '../../trials/posterior-samples.ts';
import {
  type ChanceEnd,
  type ChancePlace,
  type ChanceProblem,
  climbChance,
  placeAt,
} from './chance-search.ts';
import { type Found, type FoundPoint, foundPoint } from './find.ts';
import { isBetter, judgeOf } from './objective.ts';
import { spacefilling } from './optimise.ts';
import { benchOfWorlds, type WorldBench } from './posterior-margins.ts';
import { panelStep } from './rounding.ts';
import { coordinateOf, type SearchSpace, shareOf } from './space.ts';

/** Settings that meet the whole spec in so large a share of the possible worlds. */
export interface Supported {
  /** The settings; the likeliest where the confidence is not reached. */
  readonly best: FoundPoint;
  /** Best of each combination of choices, best first, as far as a quick look over fewer worlds tells. */
  readonly byChoice: readonly Robust[];
  /** Whether the confidence asked is reached, confirmed on worlds the search has not seen. */
  readonly supported: boolean;
  readonly confidence: number;
  /** Chance of the whole spec and its standard error, on fresh worlds. */
  readonly probability: number;
  readonly error: number;
  /** Chance of each line. */
  readonly lines: readonly number[];
  readonly calibrated: boolean;
}

/** Where one combination of choices stands after a quick look. */
export interface Robust {
  readonly point: FoundPoint;
  /** Chance of the whole spec and its standard error, on worlds the search has not seen. */
  readonly chance: number;
  readonly error: number;
  /** How many of them were asked. */
  readonly worlds: number;
}

/** Worlds of the quick look at every choice, of the search, and of the confirmation. */
const QUICK = { worlds: 60, steps: 6, radius: 0.15 } as const;
const SPREAD = { points: 24, worlds: 16 } as const;
const THOROUGH = { worlds: 400, steps: 5, radius: 0.06 } as const;
const FRESH = 600;
/** Of the fresh worlds, those asked about every choice. */
const FRESH_QUICK = 300;
const FRESH_SEED = 1_000_003;
/** A choice whose goal comes this near the best after the quick look is searched thoroughly too. */
const RIVAL = 0.03;
const MOST_RIVALS = 2;
/** Standard errors by which more is asked than is promised, raised while fresh worlds are less kind than those of the search. */
const MORE = [0.5, 1.5, 2.5] as const;
const CERTAIN = 1;
/** Standard errors by which the quick look, kind as it is, may fall short of the chance asked before there is no hope of it. */
const HOPE = 1;

/**
 * Settings that serve the goal best while the whole spec is met with a stated probability, over worlds drawn from the
 * calibration (model, feed lot, analyser). Every combination of choices is climbed over a few worlds from where the model at
 * its mean stands best, the best of them over many, and the answer is confirmed on fresh worlds.
 *
 * @param nominal what `findSettings` found for the same space
 * @param confidence 0…1
 */
export function findSupported(
  scenario: Scenario,
  space: SearchSpace,
  nominal: Found,
  confidence: number,
  seed = 1,
): Supported {
  const posterior = posteriorOf(scenario);
  const { factors } = space;
  const bench = benchOfWorlds(scenario, factors, posterior, worldsOf(posterior, THOROUGH.worlds, seed));
  const fresh = benchOfWorlds(scenario, factors, posterior, worldsOf(posterior, FRESH, seed + FRESH_SEED));
  const calibrated = scenario.calibration !== undefined;
  const told = (best: FoundPoint, byChoice: readonly Robust[]): Supported => {
    const { whole, error, lines } = chancesAt(fresh, best.coordinates, FRESH);
    return {
      best,
      byChoice,
      supported: nominal.meets && whole >= confidence,
      confidence,
      probability: whole,
      error,
      lines,
      calibrated,
    };
  };
  if (!nominal.meets) return told(nominal.best, []);
  const climbers = nominal.byChoice.map((start) => climberOf(scenario, space, bench, start));
  const looks = climbers
    .map((climber) => ({ climber, place: quickLook(climber, confidence, seed) }))
    .sort((a, b) => byMerit(a.place, b.place));
  const byChoice = looks.map(({ climber, place }): Robust => {
    const point = climber.pointAt(place.at);
    // the worlds of the search are kind to what it found in them
    const { whole, error } = chancesAt(fresh, point.coordinates, FRESH_QUICK);
    return { point, chance: whole, error, worlds: FRESH_QUICK };
  });
  let best: Supported | undefined;
  for (const { climber, place } of rivals(looks))
    best = thorough(climber, place, confidence, seed, (point) => told(point, byChoice), best);
  return best!;
}

/**
 * Climbs over many worlds until the fresh ones confirm the chance asked; where the quick look leaves no hope of that, or none
 * confirms it, to the likeliest settings there are.
 *
 * @param before the best of the choices searched before, returned where this one comes to nothing better
 */
function thorough(
  climber: Climber,
  { at: start, chance }: ChancePlace,
  confidence: number,
  seed: number,
  told: (best: FoundPoint) => Supported,
  before: Supported | undefined,
): Supported {
  let best = before;
  const hopeless = chance + HOPE * errorOf(chance, QUICK.worlds) < confidence;
  let end: Parameters<Climber['climb']>[0] = start;
  for (const [attempt, share] of (hopeless ? [] : MORE).entries()) {
    // a search settles where its own worlds happen to be kind: it asks somewhat more than is promised
    const wanted = Math.min(CERTAIN, confidence + share * errorOf(confidence, THOROUGH.worlds));
    const next = climber.climb(end, wanted, THOROUGH, seed + attempt);
    end = next;
    const point = climber.pointAt(next.at);
    // asking for more from here on can only cost more of the goal
    if (best?.supported && !isBetter(point.merit, best.best.merit)) return best;
    best = betterOf(told(point), best);
    if (best.supported && best.best === point) return best;
  }
  if (best?.supported) return best;
  return betterOf(told(climber.pointAt(climber.climb(end, CERTAIN, THOROUGH, seed).at)), best);
}

/** From where the mean stands best; where that leads nowhere, from the best of some places spread out, too. */
function quickLook(climber: Climber, confidence: number, seed: number): ChancePlace {
  const first = climber.climb(climber.start, confidence, QUICK, seed);
  if (first.merit.violation === 0) return first;
  const start = spacefilling(climber.start.length, SPREAD.points, seed)
    .map((at) => climber.look(at, confidence, SPREAD.worlds))
    .sort(byMerit)[0];
  if (!start) return first;
  const second = climber.climb(start.at, confidence, QUICK, seed);
  return byMerit(first, second) <= 0 ? first : second;
}

function byMerit(a: ChancePlace, b: ChancePlace): number {
  if (isBetter(a.merit, b.merit)) return -1;
  return isBetter(b.merit, a.merit) ? 1 : 0;
}

/** The best after the quick look, and the few that come so near that more worlds could turn the order. */
function rivals<T extends { readonly place: ChancePlace }>(looks: readonly T[]): readonly T[] {
  const { merit, chance } = looks[0]!.place;
  return looks
    .slice(0, MOST_RIVALS)
    .filter(({ place }) =>
      merit.violation > 0
        ? place.chance >= chance - errorOf(chance, QUICK.worlds)
        : place.merit.violation === 0 && place.merit.goal >= merit.goal - RIVAL * Math.abs(merit.goal),
    );
}

function betterOf(next: Supported, best: Supported | undefined): Supported {
  return best === undefined || isMoreSupported(next, best) ? next : best;
}

function isMoreSupported(a: Supported, b: Supported): boolean {
  if (a.supported !== b.supported) return a.supported;
  return a.supported ? isBetter(a.best.merit, b.best.merit) : a.probability > b.probability;
}

/** Standard error of a share counted over so many worlds. */
function errorOf(share: number, worlds: number): number {
  return Math.sqrt((share * (1 - share)) / worlds);
}

interface Climber {
  readonly look: (at: readonly number[], wanted: number, worlds: number) => ChancePlace;
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

/** The search over the numbers of one combination of choices. */
function climberOf(
  scenario: Scenario,
  space: SearchSpace,
  bench: WorldBench,
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
    look: (at, wanted, worlds) => placeAt({ ...problem, wanted }, at, worlds),
    climb: (start, wanted, effort, seed) => climbChance({ ...problem, wanted }, start, effort, seed),
    pointAt: (at) => {
      const exact = coordinatesAt(at);
      const rounded = Float64Array.from(exact, (value, j) => panelStep(factors[j]!, value));
      const holds = judge(rounded).violation <= judge(exact).violation;
      return foundPoint(scenario, space, holds ? rounded : exact, judged);
    },
  };
}

/** Share of so many worlds that meet the whole spec, its standard error, and the share that meets each line. */
function chancesAt(
  { lines, ...bench }: WorldBench,
  coordinates: Float64Array,
  worlds: number,
): { whole: number; error: number; lines: number[] } {
  const margins = bench.marginsAt(coordinates, worlds);
  const met = new Array<number>(lines).fill(0);
  let whole = 0;
  for (let k = 0; k < worlds; k++) {
    let all = true;
    for (let i = 0; i < lines; i++) {
      const good = margins[k * lines + i]! >= 0;
      if (good) met[i]!++;
      all &&= good;
    }
    if (all) whole++;
  }
  const share = whole / worlds;
  const error = Math.max(errorOf(share, worlds), 1 / worlds);
  return { whole: share, error, lines: met.slice(0, -1).map((count) => count / worlds) };
}
