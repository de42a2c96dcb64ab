import { quantityNamed } from '../../scenario/outcome/quantities.ts';
import { withValue } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { fromShown, toShown } from '../../scenario/units/display.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { pointInWorld, worldsOf } from '../../trials/chance.ts';
import { quantile } from '../../trials/fit/quantile.ts';
import type { LadderInput, Rung } from '../figures/ladder.ts';
import { pageUnit } from '../words.ts';
import { RUNGS } from './ladder.ts';

/** Feeds at which the spread is found, straight between them, and worlds at each: enough for the quarters. */
const COARSE = 9;
const WORLDS = 32;

/**
 * A ladder with the middle half of each rung over the worlds of the coefficients; a feed at which half of them choke has
 * none.
 *
 * @param ladder of the same scenario
 */
export function withBands(scenario: Scenario, ladder: LadderInput): LadderInput {
  const bands = bandsAlong(
    scenario,
    ladder.feed.map((feed) => fromShown(feed, 'kg/h')),
  );
  return { ...ladder, rungs: ladder.rungs.map((rung, index) => ({ ...rung, band: bands[index]! })) };
}

function bandsAlong(scenario: Scenario, feeds: readonly number[]): NonNullable<Rung['band']>[] {
  const posterior = posteriorOf(scenario);
  const worlds = worldsOf(posterior, WORLDS);
  const places = Array.from({ length: COARSE }, (_, i) =>
    Math.round((i * (feeds.length - 1)) / (COARSE - 1)),
  );
  const found = places.map((place) => {
    const at = withValue(scenario, 'feedRate', feeds[place]!);
    const points = worlds
      .map((world) => pointInWorld(at, posterior, world))
      .filter((point) => point.status === 'steady');
    return RUNGS.map((name) => {
      const values = points.map((point) => toShown(quantityNamed(name)!.of(point), pageUnit(name)));
      if (values.length * 2 < WORLDS) return { low: Number.NaN, high: Number.NaN };
      values.sort((a, b) => a - b);
      return { low: quantile(values, 0.25), high: quantile(values, 0.75) };
    });
  });
  return RUNGS.map((_, rung) => ({
    low: between(
      places,
      found.map((each) => each[rung]!.low),
    ),
    high: between(
      places,
      found.map((each) => each[rung]!.high),
    ),
  }));
}

/** Values at every place from first to last, straight between those given. */
function between(places: readonly number[], values: readonly number[]): number[] {
  return Array.from({ length: places.at(-1)! + 1 }, (_, i) => {
    const k = Math.max(
      1,
      places.findIndex((place) => place >= i),
    );
    const [from, to] = [places[k - 1]!, places[k]!];
    const share = (i - from) / (to - from);
    if (share === 1) return values[k]!;
    return share === 0 ? values[k - 1]! : values[k - 1]! * (1 - share) + values[k]! * share;
  });
}
