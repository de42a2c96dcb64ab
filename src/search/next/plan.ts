import type { Matrix } from 'ml-matrix';
import type { Method } from '../../scenario/measurement/measured-sample.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { scenarioAt } from '../../sweep/study/point-case.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { type Random, seeded } from '../../trials/random.ts';
import { findSettings } from '../find/find.ts';
import type { Effort } from '../find/optimise.ts';
import { panelStep } from '../find/rounding.ts';
import { coordinateOf, type SearchSpace } from '../find/space.ts';
import { type Budget, type RunCost, runCost } from './budget.ts';
import { type PlannedTrial, plannedTrial } from './candidate-trial.ts';
import { type Choice, chooseNext } from './choose.ts';
import { type Answer, answerAt, steepness } from './decision.ts';
import { type Determined, determined } from './determined.ts';
import { withSharedError } from './knowledge.ts';
import { runnable } from './runnable.ts';
import { safeRaise, settingsShift, WORTH_MOVING } from './value-of-trial.ts';
import { type NotRun, WHEELS_BY, type Why, wantedTrial, wheelsInQuestion } from './wanted-trials.ts';

/** One trial of the plan. */
export interface PlannedRun {
  readonly trial: PlannedTrial;
  readonly cost: RunCost;
  /** Standard error of the answer's lines, root of the sum of squares, before and after this run. */
  readonly before: number;
  readonly after: number;
  /** How far this run would move the settings of the answer, as a share (90 % of the samples). */
  readonly moves: number;
  /** By how much it lets the safe settings come nearer to their best, as a share. */
  readonly raises: number;
  readonly why: Why;
  /** Coefficients this run is expected to determine most: standard error of the logarithm before and after. */
  readonly settles: readonly Determined[];
}

/** The next trials, in the order they are to be run, and why there are no more. */
export interface Plan {
  readonly answer: Answer;
  readonly runs: readonly PlannedRun[];
  /** Whether powder and time leave room to repeat the first run last. */
  readonly repeat: RunCost | undefined;
  /** Why the list ends: as many as asked, nothing more affordable, or nothing more to learn. */
  readonly ends: 'asked' | 'powder' | 'time' | 'settled' | 'nothing';
  /** By how much the settings could still move were all known, as a share (90 % of the samples). */
  readonly settingsInDoubt: number;
  /** By how much the best single trial could raise the safe settings now, as a share; absent where none can be run. */
  readonly bestRaise?: number;
  readonly powder: number;
  readonly time: number;
  /** Settings that were to be run and are not, and why. */
  readonly notRun: readonly NotRun[];
  /** What the run that takes least powder of all that could be run would cost; absent where none can be run. */
  readonly least?: RunCost;
}

interface PlanOptions {
  readonly count: number;
  readonly method: Method;
  readonly seed?: number;
  /** Settings of the answer; found afresh where absent. */
  readonly answerAt?: Scenario;
  readonly candidates?: number;
  /** Settings to be run whatever they teach. */
  readonly include?: readonly Scenario[];
  /** Share below which a raise of the safe settings is not worth a trial; `WORTH_MOVING` where absent. */
  readonly worthMoving?: number;
}

const CANDIDATES = 48;
/** Settings are wanted as a place to ask about, not to the last digit. */
const QUICK: Effort = { points: 192, population: 24, generations: 36, starts: 2 };

/**
 * The trials that most reduce the uncertainty of the answer asked, one after the other, within powder and time; ordered
 * so that wheels are changed as little as may be. The first is repeated last where there is room, to show drift.
 *
 * @param known what is known now: a calibration, or the prior
 */
export function planTrials(
  scenario: Scenario,
  space: SearchSpace,
  known: Posterior,
  budget: Budget,
  options: PlanOptions,
): Plan {
  const posterior = withSharedError(known);
  const seed = options.seed ?? 1;
  const found = options.answerAt ? undefined : findSettings(scenario, space, { seed, effort: QUICK });
  const best = options.answerAt ?? found!.best.scenario;
  const answer = answerAt(best, posterior);
  const candidates = candidateTrials(scenario, space, posterior, best, options, seeded(seed));
  const slopes = steepness(answer, posterior, space);
  const settingsInDoubt = settingsShift(answer, slopes, posterior.covariance);
  const { worthMoving = WORTH_MOVING } = options;
  const varies = slopes.some((slope) => slope > 0);
  const included = (options.include ?? []).map((at) => ({ why: 'included', scenario: at }) as const);
  const first = withinShare(answer, posterior.covariance, candidates, [], budget, options.count);
  const gain = first
    ? safeRaise(answer, slopes, posterior.covariance, first.covariance)
    : Number.POSITIVE_INFINITY;
  // where nothing is worth a trial the settings asked about are none either
  const asked = varies && gain < worthMoving ? [] : [{ why: 'asked', scenario: best } as const];
  const wishes = [...asked, ...included];
  const notRun: NotRun[] = [];
  const count = Math.max(options.count, wishes.length);
  const chosen: Chosen[] = [];
  let covariance = posterior.covariance;
  const take = (choice: Choice<PlannedTrial>, why: Why): void => {
    const moves = settingsShift(answer, slopes, covariance, choice.covariance);
    const raises = safeRaise(answer, slopes, covariance, choice.covariance);
    chosen.push({ ...choice, moves, raises, why, from: covariance });
    covariance = choice.covariance;
  };
  for (const wish of wishes) {
    const done = chosen.map(({ trial }) => trial);
    const price = (trial: PlannedTrial) => priceOf(budget, [...done, trial]);
    const trial = wantedTrial(wish, posterior, options.method, (one) => price(one) !== undefined);
    const choice = typeof trial === 'string' ? undefined : chooseNext(answer, covariance, [trial], price);
    if (choice) take(choice, wish.why);
    else notRun.push({ ...wish, reason: trial === 'limit' ? 'limit' : shortOf(budget, wish.scenario, done) });
  }
  const wheels = found ? wheelsInQuestion(found) : [];
  let ends: Plan['ends'] = 'asked';
  let rest = candidates.filter(
    ({ scenario: at }) => !chosen.some(({ trial }) => sameSettings(trial.scenario, at)),
  );
  while (chosen.length < count) {
    const done = chosen.map(({ trial }) => trial);
    const missing = wheels.filter((wheel) => !done.some(({ scenario: at }) => at.settings.wheel === wheel));
    const due = missing.length > 0 && missing.length >= Math.min(count, WHEELS_BY) - done.length;
    const onWheel = due ? rest.filter(({ scenario: at }) => missing.includes(at.settings.wheel)) : [];
    const choice =
      (onWheel.length > 0 ? withinShare(answer, covariance, onWheel, done, budget, count) : undefined) ??
      withinShare(answer, covariance, rest, done, budget, count);
    if (!choice) {
      ends = candidates.length === 0 ? 'nothing' : lacking(budget, rest, done);
      break;
    }
    // a first trial is for a higher safe rate; what a list goes on with is foretold too roughly for more than a move
    const worth = chosen.length === 0 ? safeRaise : settingsShift;
    const gained = worth(answer, slopes, covariance, choice.covariance);
    // where wheels alone are to choose from, what a trial would change is a choice, and no share of anything
    if (gained < worthMoving && varies) {
      ends = 'settled';
      break;
    }
    take(choice, 'teaches');
    rest = rest.filter((trial) => trial !== choice.trial);
  }
  const least = leastOf(candidates.map(({ scenario: at }) => runCost(budget, at, undefined)));
  return {
    ...assembled(answer, chosen, posterior, budget, ends, settingsInDoubt),
    notRun,
    ...(first ? { bestRaise: gain } : {}),
    ...(least ? { least } : {}),
  };
}

/** A trial of the plan with the covariance it was chosen from and the one it leaves. */
interface Chosen extends Choice<PlannedTrial> {
  readonly moves: number;
  readonly raises: number;
  readonly why: Why;
  readonly from: Matrix;
}

function sameSettings(a: Scenario, b: Scenario): boolean {
  return JSON.stringify([a.settings, a.air]) === JSON.stringify([b.settings, b.air]);
}

function leastOf(costs: readonly RunCost[]): RunCost | undefined {
  return costs.reduce<RunCost | undefined>((a, b) => (a && a.powder <= b.powder ? a : b), undefined);
}

function candidateTrials(
  scenario: Scenario,
  space: SearchSpace,
  posterior: Posterior,
  best: Scenario,
  { method, candidates = CANDIDATES }: PlanOptions,
  random: Random,
): PlannedTrial[] {
  const places = [best];
  for (let i = 0; i < candidates; i++) {
    const coordinates = Float64Array.from(space.choices[i % space.choices.length]!);
    for (const j of space.numbers)
      coordinates[j] = panelStep(space.factors[j]!, coordinateOf(space.factors[j]!, random()));
    places.push(scenarioAt(scenario, space.factors, coordinates));
  }
  return places.flatMap((place) => {
    if (!runnable(place, posterior)) return [];
    return plannedTrial(place, posterior, method) ?? [];
  });
}

/**
 * The best next trial that leaves the others, and the repeat, their share of the powder; where powder is too short for as
 * many as were asked, for one fewer, and so on.
 */
function withinShare(
  answer: Answer,
  covariance: Matrix,
  rest: readonly PlannedTrial[],
  done: readonly PlannedTrial[],
  budget: Budget,
  count: number,
): Choice<PlannedTrial> | undefined {
  const left = budget.powder - totals(budget, inOrder(done)).powder;
  for (let others = count - done.length; others >= 0; others--) {
    const share = left / (others + 1);
    const choice = chooseNext(answer, covariance, rest, (trial) =>
      runCost(budget, trial.scenario, undefined).powder <= share
        ? priceOf(budget, [...done, trial])
        : undefined,
    );
    if (choice) return choice;
  }
  return undefined;
}

/** Powder and time as shares of what there is; undefined where they do not suffice. The empty run is in the time. */
function priceOf(budget: Budget, trials: readonly PlannedTrial[]): number | undefined {
  const { powder, time } = totals(budget, inOrder(trials));
  if (powder > budget.powder || time > budget.time) return undefined;
  return (Number.isFinite(budget.powder) ? powder / budget.powder : 0) + time / budget.time;
}

function totals(budget: Budget, trials: readonly PlannedTrial[]): { powder: number; time: number } {
  let powder = 0;
  let time = budget.empty;
  let wheel: string | undefined;
  for (const { scenario } of trials) {
    const cost = runCost(budget, scenario, wheel);
    powder += cost.powder;
    time += cost.time;
    wheel = scenario.settings.wheel;
  }
  return { powder, time };
}

/** Whether powder or time is what one more run lacks. */
function shortOf(budget: Budget, scenario: Scenario, done: readonly PlannedTrial[]): 'powder' | 'time' {
  const spent = totals(budget, inOrder(done)).powder;
  return spent + runCost(budget, scenario, undefined).powder > budget.powder ? 'powder' : 'time';
}

function lacking(
  budget: Budget,
  rest: readonly PlannedTrial[],
  done: readonly PlannedTrial[],
): 'powder' | 'time' | 'nothing' {
  if (rest.length === 0) return 'nothing';
  const enough = rest.some((trial) => totals(budget, inOrder([...done, trial])).powder <= budget.powder);
  return enough ? 'time' : 'powder';
}

/** By wheel in the order first wanted, then by rising feed rate: a mill warms up gently and wheels change seldom. */
function inOrder<T extends PlannedTrial>(trials: readonly T[]): T[] {
  const wheels = [...new Set(trials.map(({ scenario }) => scenario.settings.wheel))];
  return [...trials].sort(({ scenario: a }, { scenario: b }) => {
    const byWheel = wheels.indexOf(a.settings.wheel) - wheels.indexOf(b.settings.wheel);
    return byWheel !== 0 ? byWheel : a.settings.feedRate - b.settings.feedRate;
  });
}

function assembled(
  answer: Answer,
  chosen: readonly Chosen[],
  posterior: Posterior,
  budget: Budget,
  ends: Plan['ends'],
  settingsInDoubt: number,
): Omit<Plan, 'notRun'> {
  const order = inOrder(chosen.map(({ trial }) => trial));
  let wheel: string | undefined;
  const runs = order.map((trial) => {
    const { before, after, moves, raises, why, from, covariance } = chosen.find(
      (one) => one.trial === trial,
    )!;
    const cost = runCost(budget, trial.scenario, wheel);
    wheel = trial.scenario.settings.wheel;
    return {
      trial,
      cost,
      before: Math.sqrt(before),
      after: Math.sqrt(after),
      moves,
      raises,
      why,
      settles: determined(posterior, from, covariance),
    };
  });
  const spent = totals(budget, order);
  const again = order[0] ? runCost(budget, order[0].scenario, wheel) : undefined;
  const room =
    again && spent.powder + again.powder <= budget.powder && spent.time + again.time <= budget.time;
  return {
    answer,
    runs,
    repeat: room ? again : undefined,
    ends,
    settingsInDoubt,
    powder: spent.powder + (room ? again.powder : 0),
    time: spent.time + (room ? again.time : 0),
  };
}
