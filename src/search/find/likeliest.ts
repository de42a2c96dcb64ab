import type { Scenario } from '../../scenario/scenario.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { samplesOf } from '../../trials/posterior-samples.ts';
import { type Candidate, EVEN, firstToRun, isTie, SEARCHED_EVEN } from './best-point.ts';
import {
  byMerit,
  type Chances,
  type Climber,
  chancesAt,
  climberOf,
  FRESH,
  FRESH_SEED,
  quickLook,
  THOROUGH,
} from './chance-climber.ts';
import type { ChancePlace } from './chance-search.ts';
import type { Found, FoundPoint } from './find.ts';
import { benchOfSamples } from './posterior-margins.ts';
import type { SearchSpace } from './space.ts';

/** Settings to run first: a point and its probabilities over samples not used in the search. */
export interface Likeliest {
  readonly point: FoundPoint;
  readonly chances: Chances;
  /** Wheels whose best the samples cannot tell from this one, this one first; absent where there is none. */
  readonly tie?: readonly string[];
  /** The best of each combination of choices, likeliest first. */
  readonly byChoice: readonly { readonly point: FoundPoint; readonly chances: Chances }[];
}

const CERTAIN = 1;
/** Combinations of choices that are searched over many samples. */
const THOROUGHLY = 3;

/**
 * Settings to run first while the coefficients are uncertain: the highest probability of meeting the whole spec, and within two
 * points of it the best goal (`firstToRun`). Where nothing meets the spec at the coefficients as they stand, the search starts
 * from the nearest misses, and the nearest of them comes first if no settings have a probability worth the name.
 *
 * @param nominal what `findSettings` found for the same space
 */
export function findLikeliest(scenario: Scenario, space: SearchSpace, nominal: Found, seed = 1): Likeliest {
  const posterior = posteriorOf(scenario);
  const { factors } = space;
  const bench = benchOfSamples(scenario, factors, posterior, samplesOf(posterior, THOROUGH.samples, seed));
  const fresh = benchOfSamples(scenario, factors, posterior, samplesOf(posterior, FRESH, seed + FRESH_SEED));
  const looks = nominal.byChoice
    .map((start) => climberOf(scenario, space, bench, start))
    .map((climber) => ({ climber, place: quickLook(climber, CERTAIN, seed) }))
    .sort((a, b) => byMerit(a.place, b.place));
  const found = looks.map(({ climber, place }, k) => {
    const point = climber.pointAt(k < THOROUGHLY ? climbed(climber, place, seed) : place.at);
    return { point, chances: chancesAt(fresh, point.coordinates, FRESH) };
  });
  const candidates = [
    ...found,
    ...atNominal(nominal, (point) => chancesAt(fresh, point.coordinates, FRESH)),
  ].map((each) => ({
    ...each,
    meets: each.chances.meets,
    goal: each.point.merit.goal,
    margin: -each.point.merit.violation,
  }));
  const hopeless = !nominal.meets && candidates.every(({ chances }) => chances.whole <= EVEN);
  const first = hopeless ? candidates.at(-1)! : firstToRun(candidates)!;
  const byChoice = [...found].sort((a, b) => b.chances.whole - a.chances.whole);
  const even = hopeless ? [] : tiedWith(first, candidates, wheelsOf(space));
  const chosen = even[0] ?? first;
  const tie = even.length > 1 ? { tie: even.map(wheelOf) } : {};
  return { point: chosen.point, chances: chosen.chances, ...tie, byChoice };
}

type Looked = Candidate & { readonly point: FoundPoint; readonly chances: Chances };

const wheelOf = ({ point }: Looked): string => point.scenario.settings.wheel;

/** Wheels that are searched, in the order of the file. */
function wheelsOf({ factors }: SearchSpace): readonly string[] {
  return factors.flatMap((factor) =>
    factor.path === 'wheel' && factor.kind === 'levels' ? factor.levels.map(String) : [],
  );
}

/** The best of each wheel that the samples cannot tell from the first, in the order of the file. */
function tiedWith(
  first: Looked,
  candidates: readonly Looked[],
  wheels: readonly string[],
): readonly Looked[] {
  return wheels.flatMap((wheel) => {
    if (wheelOf(first) === wheel) return [first];
    const best = firstToRun(candidates.filter((each) => wheelOf(each) === wheel));
    return best && isTie(best, first, SEARCHED_EVEN) ? [best] : [];
  });
}

/** The point of the model at its mean stands too: no search over samples may do worse than it. */
function atNominal(nominal: Found, chances: (point: FoundPoint) => Chances) {
  return [{ point: nominal.best, chances: chances(nominal.best) }];
}

/** To the highest share of many samples, then to the best goal within two points of it. */
function climbed(climber: Climber, { at }: ChancePlace, seed: number): readonly number[] {
  const top = climber.climb(at, CERTAIN, THOROUGH, seed);
  if (top.chance <= EVEN) return top.at;
  return climber.climb(top, top.chance - EVEN, THOROUGH, seed + 1).at;
}
