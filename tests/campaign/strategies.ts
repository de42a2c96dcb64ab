import { sizeAt } from '../../src/model/psd/curve.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { type SearchSpace, searchSpace } from '../../src/search/find/space.ts';
import { budgetOf } from '../../src/search/next/budget.ts';
import { modelWith, plannedTrial } from '../../src/search/next/candidate-trial.ts';
import { covarianceAfter } from '../../src/search/next/choose.ts';
import { answerAt, doubtOf, linesAt, varianceOf } from '../../src/search/next/decision.ts';
import { withSharedError } from '../../src/search/next/knowledge.ts';
import { planTrials } from '../../src/search/next/plan.ts';
import { fitTrials, MODEL_FLOOR, type Posterior } from '../../src/trials/fit/fit.ts';
import type { Random } from '../../src/trials/random.ts';
import type { Trial } from '../../src/trials/trial.ts';
import { measuredRun, type Settings, scenarioAt, type Truth } from './campaign.ts';
import { FEW } from './light.ts';

/** Where a campaign stands after so many trials. */
export interface Standing {
  /** Standard error of what is asked, root of the sum of squares, as shares of the limits. */
  readonly doubt: number;
  /** |ln x95 expected − ln x95 true| at the settings asked about. */
  readonly error: number;
  /** What was foretold of this trial; absent where the mill was foretold to choke. */
  readonly forecast?: Forecast;
}

/** Lines of the answer after a trial, as foretold before it and as found by the fit: roots of the sums of squares. */
export interface Forecast {
  readonly foretold: number;
  readonly found: number;
  /** Share of the lines whose true value lies within one standard error foretold. */
  readonly within: number;
}

export type Strategy = (posterior: Posterior, done: readonly Trial[]) => Scenario;

/** One trial after another by a strategy, the fit repeated after each. */
export function follow(
  asked: Scenario,
  truth: Truth,
  strategy: Strategy,
  count: number,
  random: Random,
): Standing[] {
  const { prior } = truth;
  const { mean, covariance } = prior;
  let posterior: Posterior = { prior, mean, covariance, discrepancy: MODEL_FLOOR };
  const trials: Trial[] = [];
  const standings: Standing[] = [];
  const real = truth.solve(asked);
  if (real.status !== 'steady') throw new Error('the truth chokes at what is asked');
  for (let k = 0; k < count; k++) {
    const there = strategy(posterior, trials);
    trials.push(measuredRun(`run ${k + 1}`, there, truth, 'laser', random));
    const fit = fitTrials(asked, trials, { starts: 4, effort: FEW }) ?? posterior;
    const forecast = forecastAgainst(asked, there, truth, posterior, fit);
    posterior = fit;
    const expected = modelWith(asked, posterior, posterior.mean);
    const error =
      expected.status === 'steady'
        ? Math.abs(Math.log(sizeAt(expected.curve, 0.95) / sizeAt(real.curve, 0.95)))
        : Number.POSITIVE_INFINITY;
    const doubt = Math.sqrt(doubtOf(answerAt(asked, posterior), posterior.covariance));
    standings.push({ doubt, error, ...(forecast ? { forecast } : {}) });
  }
  return standings;
}

/** The lines in doubt before a trial, as foretold for after it, against the fit with it and the truth. */
function forecastAgainst(
  asked: Scenario,
  there: Scenario,
  truth: Truth,
  earlier: Posterior,
  later: Posterior,
): Forecast | undefined {
  // as a plan knows them: coefficients with the error the trials share
  const [before, fit] = [withSharedError(earlier), withSharedError(later)];
  const planned = plannedTrial(there, before, 'laser');
  const after = linesAt(asked, fit);
  const real = linesAt(asked, { ...earlier, mean: truth.coordinates });
  if (!planned || !after || !real) return undefined;
  const foretold = covarianceAfter(before.covariance, planned.information);
  const rows = answerAt(asked, before).lines.flatMap(({ text, gradient }) => {
    const variance = varianceOf(gradient, foretold);
    const line = after.find((one) => one.text === text);
    const value = real.find((one) => one.text === text)?.value;
    if (!line || value === undefined || variance === 0) return [];
    const within = Number((line.value - value) ** 2 <= variance);
    return [{ variance, found: varianceOf(line.gradient, fit.covariance), within }];
  });
  if (rows.length === 0) return undefined;
  const root = (of: 'variance' | 'found') => Math.sqrt(rows.reduce((sum, row) => sum + row[of], 0));
  const within = rows.reduce((sum, row) => sum + row.within, 0) / rows.length;
  return { foretold: root('variance'), found: root('found'), within };
}

/** Trials as `next` names them, one at a time; settings at which this truth would choke are passed over, as on the floor. */
export function byNext(scenario: Scenario, asked: Scenario, truth: Truth): Strategy {
  const space = searchSpace(scenario) as SearchSpace;
  const budget = budgetOf(
    { ...scenario, powder: { have: 1000, reserve: 0, lossPerRun: 0.5, minimumRun: 2 } },
    100,
  );
  return (posterior, done) => {
    for (let seed = 1 + done.length; seed < 100; seed += 10) {
      const plan = planTrials(scenario, space, posterior, budget, {
        count: 1,
        method: 'laser',
        seed,
        answerAt: asked,
        candidates: 30,
      });
      const there = plan.runs[0]?.trial.scenario;
      if (there && truth.solve(there).status === 'steady') return there;
    }
    return asked;
  };
}

const rpm = 1 / 60;
const CENTRE: Settings = { rotorSpeed: 5700 * rpm, wheelSpeed: 2200 * rpm, feedRate: 200 / 3600 };

/** One factor at a time around the centre of the ranges, as is the habit: centre, then each factor up and down. */
export const ONE_AT_A_TIME: readonly Settings[] = [
  CENTRE,
  { ...CENTRE, wheelSpeed: 3000 * rpm },
  { ...CENTRE, rotorSpeed: 6600 * rpm },
  { ...CENTRE, feedRate: 300 / 3600 },
  { ...CENTRE, wheelSpeed: 1500 * rpm },
  { ...CENTRE, rotorSpeed: 4800 * rpm },
  { ...CENTRE, feedRate: 130 / 3600 },
];

export function oneAtATime(scenario: Scenario): Strategy {
  return (_, done) => scenarioAt(scenario, ONE_AT_A_TIME[done.length % ONE_AT_A_TIME.length]!);
}
