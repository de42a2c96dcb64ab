import { WORTH_MOVING } from '../../src/search/next/value-of-trial.ts';
import { seeded } from '../../src/trials/random.ts';
import { campaignScenario, feedFree, hiddenTruth, numbersOnly } from '../campaign/campaign.ts';
import { type OneMore, oneMoreEach } from '../campaign/stopping.ts';

/** How far one more trial moved the settings found. */
export interface Moves {
  readonly count: number;
  /** Share of the trials that moved every setting by less than `WORTH_MOVING`, and the feed rate. */
  readonly every: number;
  readonly feed: number;
  /** Median of the largest move of a setting, and of the move foretold. */
  readonly largest: number;
  readonly foretold: number;
}

/** What the stop of `next` is worth: trials run although it said stop, those after the first trial where it said go on. */
export interface StopFigures {
  readonly campaigns: number;
  readonly stop: Moves;
  readonly goOn: Moves;
  /** Campaigns told to stop after the first trial. */
  readonly stoppedAtOnce: number;
  /** Trials done at the first stop, one entry a campaign that came to one, ascending. */
  readonly stops: readonly number[];
}

/**
 * Campaigns over hidden truths, one trial more than is said each time.
 *
 * @param trials of each campaign
 */
export function stopFigures(campaigns: number, trials = 8, from = 500): StopFigures {
  const scenario = feedFree(numbersOnly(campaignScenario()));
  const all = Array.from({ length: campaigns }, (_, k) => {
    const truth = hiddenTruth(scenario, seeded(from + k));
    return oneMoreEach(scenario, truth, trials, seeded(7000 + from + k));
  });
  const afterOne = all.flatMap((steps) => steps.filter((step) => step.trials === 1));
  return {
    campaigns,
    stop: movesOf(all.flat().filter(({ stop }) => stop)),
    goOn: movesOf(afterOne.filter(({ stop }) => !stop)),
    stoppedAtOnce: afterOne.filter(({ stop }) => stop).length,
    stops: all.flatMap((steps) => steps.find(({ stop }) => stop)?.trials ?? []).sort((a, b) => a - b),
  };
}

/** Sums up trials of one kind. */
export function movesOf(steps: readonly OneMore[]): Moves {
  const share = (holds: (step: OneMore) => boolean) => steps.filter(holds).length / steps.length;
  const middle = (values: readonly number[]) =>
    [...values].sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
  return {
    count: steps.length,
    every: share(({ moved }) => Math.max(...moved) < WORTH_MOVING),
    feed: share(({ moved }) => moved[2]! < WORTH_MOVING),
    largest: middle(steps.map(({ moved }) => Math.max(...moved))),
    foretold: middle(steps.map(({ foretold }) => foretold)),
  };
}
