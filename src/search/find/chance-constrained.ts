import type { Scenario } from '../../scenario/scenario.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { samplesOf } from '../../trials/posterior-samples.ts';
import {
  byMerit,
  type Climber,
  chancesAt,
  climberOf,
  errorOf,
  FRESH,
  FRESH_QUICK,
  FRESH_SEED,
  QUICK,
  quickLook,
  THOROUGH,
} from './chance-climber.ts';
import type { ChancePlace } from './chance-search.ts';
import type { Found, FoundPoint } from './find.ts';
import type { Likeliest } from './likeliest.ts';
import { isBetter } from './objective.ts';
import { benchOfSamples } from './posterior-margins.ts';
import type { SearchSpace } from './space.ts';

/** Settings that meet the whole spec in at least a stated share of the samples of the coefficients. */
export interface Supported {
  /** The settings; the likeliest where the confidence is not reached. */
  readonly best: FoundPoint;
  /** Best of each combination of choices, best first, by a quick look over fewer samples. */
  readonly byChoice: readonly Robust[];
  /** Whether the required probability is reached, confirmed on samples not used in the search. */
  readonly supported: boolean;
  readonly confidence: number;
  /** Probability of the whole spec and its standard error, on fresh samples. */
  readonly probability: number;
  readonly error: number;
  /** Probability of each requirement. */
  readonly lines: readonly number[];
  readonly calibrated: boolean;
}

/** One combination of choices after a quick look. */
interface Robust {
  readonly point: FoundPoint;
  /** Probability of the whole spec and its standard error, on samples not used in the search. */
  readonly chance: number;
  readonly error: number;
  /** How many samples were tried. */
  readonly samples: number;
}

/** A choice whose goal comes this near the best after the quick look is searched thoroughly too. */
const RIVAL = 0.03;
const MOST_RIVALS = 2;
/** Standard errors by which the search requires more than is promised; the next one where too few fresh samples meet the spec. */
const MORE = [0.5, 1.5, 2.5] as const;
const CERTAIN = 1;
/** Standard errors by which a quick look may be below the required probability before a choice is given up. */
const HOPE = 1;

/**
 * Settings that serve the goal best while the whole spec is met with a stated probability, over samples drawn from the
 * calibration (model, feed lot, analyser). Every combination of choices is climbed over a few samples from where the model at
 * its mean stands best, the best of them over many, and the answer is confirmed on fresh samples.
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
  const bench = benchOfSamples(scenario, factors, posterior, samplesOf(posterior, THOROUGH.samples, seed));
  const fresh = benchOfSamples(scenario, factors, posterior, samplesOf(posterior, FRESH, seed + FRESH_SEED));
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
    // the samples of the search are kind to what it found in them
    const { whole, error } = chancesAt(fresh, point.coordinates, FRESH_QUICK);
    return { point, chance: whole, error, samples: FRESH_QUICK };
  });
  let best: Supported | undefined;
  for (const { climber, place } of rivals(looks))
    best = thorough(climber, place, confidence, seed, (point) => told(point, byChoice), best);
  return best!;
}

/** Standard errors by which the likeliest settings must be below the required probability for it to be out of reach. */
const BELOW = 3;

/**
 * The answer at a probability that even the likeliest settings are far below; undefined where a search has to decide.
 *
 * @param likeliest settings of the highest probability, uncalibrated
 */
export function outOfReach(
  { byChoice }: Pick<Likeliest, 'byChoice'>,
  confidence: number,
): Supported | undefined {
  const [best] = byChoice;
  if (!best || best.chances.whole + BELOW * best.chances.error >= confidence) return undefined;
  const { whole, error, lines } = best.chances;
  return {
    best: best.point,
    byChoice: byChoice.map(({ point, chances }) => ({
      point,
      chance: chances.whole,
      error: chances.error,
      samples: FRESH,
    })),
    supported: false,
    confidence,
    probability: whole,
    error,
    lines,
    calibrated: false,
  };
}

/**
 * Climbs over many samples until the fresh ones confirm the chance asked; where the quick look leaves no hope of that, or none
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
  const hopeless = chance + HOPE * errorOf(chance, QUICK.samples) < confidence;
  let end: Parameters<Climber['climb']>[0] = start;
  for (const [attempt, share] of (hopeless ? [] : MORE).entries()) {
    // a search ends where its own samples happen to meet the spec: it requires somewhat more than is promised
    const wanted = Math.min(CERTAIN, confidence + share * errorOf(confidence, THOROUGH.samples));
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

/** The best after the quick look, and the few that come so near that more samples could turn the order. */
function rivals<T extends { readonly place: ChancePlace }>(looks: readonly T[]): readonly T[] {
  const { merit, chance } = looks[0]!.place;
  return looks
    .slice(0, MOST_RIVALS)
    .filter(({ place }) =>
      merit.violation > 0
        ? place.chance >= chance - errorOf(chance, QUICK.samples)
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
