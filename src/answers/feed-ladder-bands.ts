import { withValue } from '../scenario/operating-point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { fromShown } from '../scenario/units/display.ts';
import type { LadderInput, Rung } from './feed-ladder.ts';
import { rungNames, shownOf } from './feed-ladder.ts';
import { middleHalves } from './middle-half.ts';

/** Feeds at which the spread is found, straight between them. */
const COARSE = 13;

/**
 * A ladder with the middle half of each rung over samples of the coefficients. A sample that chokes counts as above, so
 * the band has no upper end, `Infinity`, where more than a quarter of them choke.
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
  const names = rungNames(scenario);
  const halvesAt = middleHalves(
    scenario,
    names.map((of) => (point) => shownOf(of, point)),
    'above',
  );
  const places = Array.from({ length: COARSE }, (_, i) =>
    Math.round((i * (feeds.length - 1)) / (COARSE - 1)),
  );
  const found = places.map((place) => halvesAt(withValue(scenario, 'feedRate', feeds[place]!)));
  return names.map((_, rung) => ({
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
