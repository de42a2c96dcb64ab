import { InputError } from '../../scenario/errors.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { capacityOf } from '../../search/find/capacity.ts';
import { findSupported, outOfReach, type Supported } from '../../search/find/chance-constrained.ts';
import { type Found, type FoundPoint, findSettings } from '../../search/find/find.ts';
import { findLikeliest, type Likeliest } from '../../search/find/likeliest.ts';
import { type SearchSpace, searchSpace } from '../../search/find/space.ts';
import { type Relaxed, relaxedLines } from '../../search/find/which-limit-to-relax.ts';
import { type Odds, oddsOf } from '../odds.ts';
import { standingAt } from '../standing.ts';
import { type Verdict, verdictOf } from '../verdict.ts';

/** All that `find` has found. */
export interface FindAnswer {
  readonly scenario: Scenario;
  readonly space: SearchSpace;
  /** With the present coefficients. */
  readonly nominal: Found;
  /** To be run first, by its probability; absent where the model is calibrated and something meets the spec, or without a spec. */
  readonly likeliest: Likeliest | undefined;
  /** At the confidence required; absent where none is. */
  readonly robust: Supported | undefined;
  readonly capacity: FoundPoint | undefined;
  /** Which requirement to relax, where nothing meets the spec. */
  readonly relaxed: readonly Relaxed[];
  /** The point the answer names first, and the verdict on it; null without a spec. */
  readonly named: FoundPoint;
  readonly verdict: Verdict | null;
  /** Of that point. */
  readonly odds: Odds;
}

/** A scenario with the space its settings are searched in. */
export interface Searchable {
  readonly scenario: Scenario;
  readonly space: SearchSpace;
}

/**
 * What `find` searches.
 *
 * @param atConfidence whether a probability of the spec is required
 * @throws InputError where there is nothing to search for or within
 */
export function searchable(scenario: Scenario, atConfidence: boolean): Searchable {
  if (scenario.spec.length === 0 && !scenario.goal)
    throw new InputError([{ place: 'spec', message: 'find needs a spec or a goal in the scenario' }]);
  if (scenario.spec.length === 0 && atConfidence)
    throw new InputError([{ place: 'spec', message: '--confidence needs a spec in the scenario' }]);
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
  return { scenario, space };
}

/**
 * The answer of `find`.
 *
 * @param confidence 0…1, where one is required
 */
export function findAnswer(
  { scenario, space }: Searchable,
  seed: number,
  confidence: number | undefined,
): FindAnswer {
  const nominal = findSettings(scenario, space, { seed });
  const uncertain = scenario.spec.length > 0 && !(scenario.calibration && nominal.meets);
  // the likeliest settings show at once whether a search at the probability required has any hope
  const highest = uncertain ? findLikeliest(scenario, space, nominal, seed) : undefined;
  const robust =
    confidence === undefined || !nominal.meets
      ? undefined
      : ((highest && outOfReach(highest, confidence)) ??
        findSupported(scenario, space, nominal, confidence, seed));
  const likeliest = robust?.supported ? undefined : highest;
  const capacity = nominal.meets && !robust ? capacityOf(scenario, space, nominal, seed) : undefined;
  const relaxed = nominal.meets ? [] : relaxedLines(scenario, space, seed);
  const named = robust?.supported ? robust.best : (likeliest?.point ?? nominal.best);
  const odds = oddsOf(named.scenario);
  return {
    scenario,
    space,
    nominal,
    likeliest,
    robust,
    capacity,
    relaxed,
    named,
    verdict: verdictOf(named.scenario, standingAt(named.scenario, named.point), odds),
    odds,
  };
}
