import type { SitedCase } from '../../scenario/operating-point.ts';
import { solvePoint } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import type { Limit } from '../../search/scale/limits.ts';
import type { ScaledPoint } from '../../search/scale/scale.ts';
import type { Section } from '../document.ts';
import { feedsUpTo, type LadderInput, ladderView, limitsOn, rungNames, rungsOf } from '../feed-ladder.ts';
import { label } from '../text.ts';
import type { CarriedOver } from './scale-keys.ts';
import { limitWords } from './scale-words.ts';

/** The ladder of each machine on a scale of its own: what happens as the feed of each is raised. */
export function ladderSection({ scenario, other, scaled }: CarriedOver, point: ScaledPoint): Section {
  const { most, stoppedBy } = scaled;
  return {
    id: 'ladders',
    heading: 'Each machine against its feed rate',
    sentences: ['Each machine has its own scale of feed rate; the wheel and rotor speeds are held.'],
    figures: [
      {
        id: 'ladder-here',
        title: label(scenario.machine.name ?? 'This machine', 60),
        figure: 'ladder',
        data: ladderView(scenario),
      },
      {
        id: 'ladder-there',
        title: label(other.machine.name, 60),
        figure: 'ladder',
        data: ladderOfCase(scenario, point.solved.case as SitedCase, most && stoppedBy),
      },
    ],
    onPageOnly: true,
  };
}

/** A machine's climb from a case alone; the requirements are those of the scenario, which hold for the product of both. */
function ladderOfCase(scenario: Scenario, c: SitedCase, stoppedBy: Limit | undefined): LadderInput {
  const chokesAt = solvePoint(c).state.feedAtChoke;
  const chosen = c.settings.feedRate;
  const feeds = feedsUpTo(Math.min(1.08 * chokesAt, 1.9 * chosen));
  const points = feeds.map((feedRate) =>
    solvePoint({ ...c, settings: { ...c.settings, feedRate } }, { choke: false }),
  );
  const names = rungNames(scenario);
  return {
    feed: feeds.map((feed) => toShown(feed, 'kg/h')),
    rungs: rungsOf(points, names).map((rung, k) => ({ ...rung, limits: limitsOn(scenario, names[k]!) })),
    chosen: toShown(chosen, 'kg/h'),
    chokesAt: toShown(chokesAt, 'kg/h'),
    ...(stoppedBy
      ? { limit: { feed: toShown(chosen, 'kg/h'), words: limitWords(scenario, stoppedBy) } }
      : {}),
  };
}
