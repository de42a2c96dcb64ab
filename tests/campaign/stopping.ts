import { toCase } from '../../src/scenario/operating-point.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findSettings } from '../../src/search/find/find.ts';
import { type SearchSpace, searchSpace } from '../../src/search/find/space.ts';
import { budgetOf } from '../../src/search/next/budget.ts';
import { type PlannedRun, planTrials } from '../../src/search/next/plan.ts';
import { WORTH_MOVING } from '../../src/search/next/value-of-trial.ts';
import { withCoefficients } from '../../src/trials/fit/coefficients.ts';
import { fitTrials, MODEL_FLOOR, type Posterior } from '../../src/trials/fit/fit.ts';
import type { Random } from '../../src/trials/random.ts';
import type { Trial } from '../../src/trials/trial.ts';
import { measuredRun, type Truth } from './campaign.ts';
import { FEW } from './light.ts';

/** What next said after so many trials, and how far one more, the best there was, moved the settings found. */
export interface OneMore {
  readonly trials: number;
  /** Whether it said that no trial is needed. */
  readonly stop: boolean;
  /** Move foretold, as a share (90 % of samples). */
  readonly foretold: number;
  /** Moves of rotor speed, wheel speed and feed rate, as shares. Only the goal, the feed rate, has a sharp best: many speeds serve it alike. */
  readonly moved: readonly number[];
}

/**
 * A campaign whose every trial is the one next names for the settings found so far, run on whatever it says.
 *
 * @param count trials; fewer where the truth chokes at all that is named
 */
export function oneMoreEach(scenario: Scenario, truth: Truth, count: number, random: Random): OneMore[] {
  const space = searchSpace(scenario) as SearchSpace;
  const { prior } = truth;
  const settingsOf = ({ mean }: Posterior): Scenario =>
    findSettings(withCoefficients(scenario, prior.coefficients, mean), space).best.scenario;
  const { mean, covariance } = prior;
  const trials: Trial[] = [];
  let known: Posterior = { prior, mean, covariance, discrepancy: MODEL_FLOOR };
  let settings = settingsOf(known);
  const steps: OneMore[] = [];
  while (steps.length < count) {
    const run = bestRun(scenario, space, truth, known, settings, trials.length);
    if (!run) break;
    trials.push(measuredRun(`${trials.length + 1}`, run.trial.scenario, truth, 'laser', random));
    known = fitTrials(scenario, trials, { starts: 4, effort: FEW })!;
    const next = settingsOf(known);
    steps.push({
      trials: trials.length - 1,
      stop: run.raises < WORTH_MOVING,
      foretold: run.moves,
      moved: movesOf(settings, next),
    });
    settings = next;
  }
  return steps;
}

/** The trial next would name, or would name were any move worth one; candidates at which the truth chokes are passed over. */
function bestRun(
  scenario: Scenario,
  space: SearchSpace,
  truth: Truth,
  known: Posterior,
  answerAt: Scenario,
  done: number,
): PlannedRun | undefined {
  const powder = { have: 1000, reserve: 0, lossPerRun: 0.5, minimumRun: 2 };
  const budget = budgetOf({ ...scenario, powder }, 100);
  for (let seed = 1 + done; seed < 60; seed += 10) {
    const options = { count: 1, method: 'laser', seed, answerAt, worthMoving: 0 } as const;
    const run = planTrials(scenario, space, known, budget, options).runs[0];
    if (run && truth.solve(run.trial.scenario).status === 'steady') return run;
  }
  return undefined;
}

function movesOf(before: Scenario, after: Scenario): number[] {
  const [from, to] = [toCase(before).settings, toCase(after).settings];
  const names = ['rotorSpeed', 'wheelSpeed', 'feedRate'] as const;
  return names.map((name) => Math.abs(to[name] / from[name] - 1));
}
