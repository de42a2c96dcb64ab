import type { Scenario } from '../../scenario/scenario.ts';
import { scenarioAt } from '../../sweep/study/point-case.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { type Chance, chanceOf, type World, worldsOf } from '../../trials/chance.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { type Found, findSettings, foundPoint } from './find.ts';
import { isBetter, judgeOf, type Merit } from './merit.ts';
import { type Effort, polish } from './optimise.ts';
import { roundedPoint } from './rounding.ts';
import { coordinateOf, type SearchSpace, shareOf } from './space.ts';

/** Settings that meet the whole spec in so large a share of the possible worlds. */
export interface Supported {
  readonly found: Found;
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

const WORLDS = 300;
const FRESH = 400;
const APPROACHES = 3;
const HALVINGS = 6;
/** Reserves are tried up to this many times what the tail of each line alone asks. */
const MOST_TIMES = 3;
/** Worlds and polls of the last search on the chance itself. */
const POLISHING = 150;
const POLLS = 8;
const LIGHT: Effort = { points: 192, population: 24, generations: 36, starts: 2 };

/**
 * Settings that serve the goal best while the whole spec is met with a stated probability, over worlds drawn from the
 * calibration (model, feed lot, analyser). Each line of the spec is held back by a reserve, the distance from its margin to
 * the tail of that margin over the worlds; how many times these reserves are needed is found by halving, and the answer is
 * confirmed on fresh worlds.
 *
 * @param confidence 0…1
 */
export function findSupported(
  scenario: Scenario,
  space: SearchSpace,
  confidence: number,
  seed = 1,
): Supported {
  const posterior = posteriorOf(scenario);
  const worlds = worldsOf(posterior, WORLDS, seed);
  const nominal = findSettings(scenario, space, { seed, effort: LIGHT });
  const at = (reserves: readonly number[]): Found =>
    findSettings(scenario, space, { seed, effort: LIGHT, reserves });
  if (!nominal.meets) return confirmed(nominal, posterior, confidence, seed, false);
  // a search settles where its own worlds happen to be kind: it asks one standard error more than is promised
  const wanted = Math.min(1, confidence + Math.sqrt((confidence * (1 - confidence)) / WORLDS));
  let chance = chanceOf(nominal.best.scenario, posterior, worlds);
  if (chance.whole >= wanted) return confirmed(nominal, posterior, confidence, seed, true);
  let found = nominal;
  let likeliest = { found: nominal, whole: chance.whole };
  let best: Found | undefined;
  const reach = (reserves: readonly number[]): boolean | undefined => {
    const next = at(reserves);
    if (!next.meets) return undefined;
    found = next;
    chance = chanceOf(found.best.scenario, posterior, worlds);
    if (chance.whole > likeliest.whole) likeliest = { found, whole: chance.whole };
    if (chance.whole < wanted || !confirmed(found, posterior, confidence, seed, true).supported) return false;
    if (!best || isBetter(found.best.merit, best.best.merit)) best = found;
    return true;
  };
  let base = reservesOf(found, chance, confidence);
  for (let round = 0; round < APPROACHES; round++) {
    // more than there is to give is halved; else the tails are taken again where they matter
    const met = reach(base);
    base = met === undefined ? base.map((reserve) => reserve / 2) : reservesOf(found, chance, confidence);
  }
  let low = 0;
  let high = MOST_TIMES;
  for (let round = 0; round < HALVINGS; round++) {
    const times = (low + high) / 2;
    if (reach(base.map((reserve) => reserve * times)) === false) low = times;
    else high = times;
  }
  if (best) return confirmed(best, posterior, confidence, seed, true);
  const polished = likelier(scenario, space, likeliest.found, { posterior, worlds, wanted, seed });
  return confirmed(polished, posterior, confidence, seed, true);
}

/** A pattern search on the chance itself, from the likeliest point; what reaches the chance wanted serves the goal. */
function likelier(
  scenario: Scenario,
  space: SearchSpace,
  { best, byChoice, evaluations }: Found,
  by: { posterior: Posterior; worlds: readonly World[]; wanted: number; seed: number },
): Found {
  const { factors, numbers } = space;
  const choice = Float64Array.from(factors, (factor, j) => {
    const { value } = best.settings[j]!;
    return typeof value === 'string' && factor.kind === 'levels'
      ? factor.levels.indexOf(value)
      : (value as number);
  });
  const coordinates = (at: readonly number[]): Float64Array => {
    const all = Float64Array.from(choice);
    numbers.forEach((j, k) => {
      all[j] = coordinateOf(factors[j]!, at[k]!);
    });
    return all;
  };
  const { spec, goal } = scenario;
  const judged = { spec, ...(goal ? { goal } : {}) };
  const judge = judgeOf(scenario, factors, judged);
  const few = by.worlds.slice(0, POLISHING);
  const chanceAt = (all: Float64Array): Merit => {
    const plain = judge(all);
    if (plain.violation > 0) return { goal: plain.goal, violation: 1 + plain.violation };
    const { whole } = chanceOf(scenarioAt(scenario, factors, all), by.posterior, few);
    return { goal: plain.goal, violation: Math.max(0, by.wanted - whole) };
  };
  const start = numbers.map((j) => shareOf(factors[j]!, choice[j]!));
  const place = polish(start, (at) => chanceAt(coordinates(at)), by.seed, POLLS);
  const rounded = roundedPoint(coordinates(place.at), judge(coordinates(place.at)), factors, numbers, judge);
  const point = foundPoint(scenario, space, rounded.coordinates, judged);
  return {
    best: point,
    byChoice: [point, ...byChoice.slice(1)],
    evaluations,
    meets: point.merit.violation === 0,
  };
}

/** Distance of each margin from its tail; lines share what may fail among those that can fail at all. */
function reservesOf({ best }: Found, { margins }: Chance, confidence: number): number[] {
  const failing = margins.filter((values) => !(values[0]! >= 0)).length;
  const tail = (1 - confidence) / Math.max(1, failing);
  return margins.map((values, i) => {
    const finite = values.filter(Number.isFinite);
    const at = finite[Math.floor(tail * finite.length)] ?? 0;
    const middle = finite[Math.floor(finite.length / 2)] ?? 0;
    const spread = Math.max(0, middle - at);
    return best.outcome.spec[i]!.met ? spread : 0;
  });
}

function confirmed(
  found: Found,
  posterior: Posterior,
  confidence: number,
  seed: number,
  meets: boolean,
): Supported {
  const fresh: readonly World[] = worldsOf(posterior, FRESH, seed + 1_000_003);
  const { whole, error, lines } = chanceOf(found.best.scenario, posterior, fresh);
  return {
    found,
    supported: meets && whole >= confidence,
    confidence,
    probability: whole,
    error,
    lines,
    calibrated: found.best.scenario.calibration !== undefined,
  };
}
