import { InputError } from '../../scenario/errors.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { searchSpace } from '../../search/find/space.ts';
import { type Budget, budgetOf } from '../../search/next/budget.ts';
import { planTrials } from '../../search/next/plan.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { emptyLog, type PlannedLine } from '../../trials/log/empty-log.ts';
import { expectedReadings } from '../../trials/readings.ts';
import { nextKeys } from './next-keys.ts';
import { runSheet } from './run-sheet.ts';
import type { RunSheet } from './run-sheet-content.ts';

/** What a visit to the mill allows, times in minutes. */
export interface NextWish {
  readonly trials: number;
  readonly hours: number;
  readonly method: 'laser' | 'sieve';
  /** Of feeding until a sample is taken, sampling included. */
  readonly minutes: number;
  /** Between two runs. */
  readonly changeover: number;
  /** More where the wheel changes. */
  readonly wheelchange: number;
  readonly seed: number;
  /** Ask about the settings of the file, not the best found. */
  readonly here?: boolean;
  /** Runs to plan whatever they teach. */
  readonly include?: readonly Scenario[];
}

/** A visit unless another is described. */
export const USUAL_VISIT = {
  trials: 3,
  hours: 6,
  method: 'laser',
  minutes: 4,
  changeover: 15,
  wheelchange: 45,
  seed: 1,
} as const satisfies NextWish;

/** The trials that would teach most: the sheet, what `--json` prints, and the lines of a log to fill in. */
export interface NextAnswer {
  readonly sheet: RunSheet;
  readonly keys: ReturnType<typeof nextKeys>;
  /** Whether a trial is planned, or none is needed. */
  readonly found: boolean;
  readonly lines: readonly PlannedLine[];
}

/** @throws InputError where the ranges of the settings cannot be searched, in words */
export function nextAnswer(scenario: Scenario, wish: NextWish): NextAnswer {
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new InputError([{ place: 'sweep.factors', message: space }]);
  const posterior = posteriorOf(scenario);
  const budget = budgetFor(scenario, wish);
  const plan = planTrials(scenario, space, posterior, budget, {
    count: wish.trials,
    method: wish.method,
    seed: wish.seed,
    include: wish.include ?? [],
    ...(wish.here ? { answerAt: scenario } : {}),
  });
  const rows = plan.runs.map((run) => ({
    run,
    ...expectedReadings(run.trial.scenario, posterior, 1, run.cost.duration),
  }));
  const lines = rows.map(({ run, ...readings }, i) => ({
    name: `${i + 1}`,
    scenario: run.trial.scenario,
    readings,
  }));
  return {
    sheet: runSheet(scenario, plan, rows, budget),
    keys: nextKeys(scenario, plan, rows),
    found: plan.runs.length > 0 || plan.ends === 'settled',
    lines: plan.repeat && lines[0] ? [...lines, { ...lines[0], name: '1 again' }] : lines,
  };
}

/** What a visit allows, in seconds. */
export function budgetFor(
  scenario: Scenario,
  {
    hours,
    minutes,
    changeover,
    wheelchange,
  }: Pick<NextWish, 'hours' | 'minutes' | 'changeover' | 'wheelchange'>,
): Budget {
  return budgetOf(scenario, hours, {
    settle: 60 * minutes,
    sample: 0,
    changeOver: 60 * changeover,
    wheelChange: 60 * wheelchange,
  });
}

/** Text of an empty log: for a scenario one line at its own settings, with what is foretold there; without one none. */
export function newLog(scenario: Scenario | undefined): string {
  if (!scenario) return emptyLog([]);
  const readings = expectedReadings(scenario, posteriorOf(scenario));
  return emptyLog([{ name: '1', scenario, readings }]);
}
