import { describe, expect, test } from 'vitest';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { toCase } from '../../../src/scenario/point.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { searchSpace } from '../../../src/search/find/space.ts';
import { type Budget, planTrials, powderOf } from '../../../src/search/next/next.ts';
import { doubtOf, errorOf, questionsAt } from '../../../src/search/next/question.ts';
import { informationOf, learned } from '../../../src/search/next/teach.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { fitTrials } from '../../../src/trials/fit/fit.ts';
import { seeded } from '../../../src/trials/random.ts';
import { BLIND, campaignScenario, measuredRun, scenarioAt, type Truth } from '../../campaign/campaign.ts';
import { close } from '../../close.ts';

const loaded = campaignScenario();
const factors = loaded.sweep!.factors.filter(({ path }) => path !== 'wheel');
const scenario: Scenario = { ...loaded, sweep: { ...loaded.sweep!, factors } };
const space = searchSpace(scenario);
if (typeof space === 'string') throw new Error(space);
const posterior = posteriorOf(scenario);
const questions = questionsAt(scenario, posterior);
const budget: Budget = {
  powder: 60,
  lossPerRun: 0.5,
  minimumRun: 2,
  time: 4 * 3600,
  feeding: 240,
  changeover: 1500,
  runs: 3,
};
const plan = planTrials(scenario, space, posterior, questions, budget);

describe('the next trials', () => {
  test('stay within powder, time and number, at settings within the ranges', () => {
    expect(plan.runs.length).toBeGreaterThan(0);
    expect(plan.runs.length).toBeLessThanOrEqual(3);
    expect(plan.runs.reduce((sum, { powder }) => sum + powder, 0)).toBeLessThanOrEqual(60 + 1e-9);
    for (const { scenario: run, powder } of plan.runs) {
      close(powder, Math.max(2, run.settings.feedRate * 240) + 0.5, 1e-12);
      expect(run.settings.feedRate).toBeGreaterThanOrEqual(100 / 3600);
      expect(run.settings.feedRate).toBeLessThanOrEqual(500 / 3600);
    }
    const poor = planTrials(scenario, space, posterior, questions, { ...budget, powder: 20 });
    expect(poor.runs.reduce((sum, { powder }) => sum + powder, 0)).toBeLessThanOrEqual(20);
    expect(poor.runs.at(-1)!.doubt).toBeGreaterThanOrEqual(plan.runs.at(-1)!.doubt * 0.999);
    const none = planTrials(scenario, space, posterior, questions, { ...budget, powder: 2 });
    expect(none.runs).toEqual([]);
    expect(none.stopped).toContain('no powder');
    expect(planTrials(scenario, space, posterior, questions, { ...budget, time: 600 }).stopped).toContain(
      'no time',
    );
  });

  test('teach more than settings taken at random, and each run leaves less doubt than the one before', () => {
    const one = planTrials(scenario, space, posterior, questions, {
      ...budget,
      powder: Number.POSITIVE_INFINITY,
      runs: 1,
    });
    const random = BLIND.map((settings) => {
      const information = informationOf(scenarioAt(scenario, settings), posterior)!;
      return doubtOf(questions, learned(posterior.covariance, information));
    });
    const mean = random.reduce((sum, doubt) => sum + doubt, 0) / random.length;
    const chosen = one.runs[0]!.doubt * doubtOf(questions, posterior.covariance);
    expect(chosen).toBeLessThan(mean);
    expect(chosen).toBeLessThanOrEqual(Math.min(...random) * 1.1);
    plan.runs.reduce((before, { doubt }) => {
      expect(doubt).toBeLessThan(before);
      return doubt;
    }, 1);
  });

  test('promise the error that a fit on the run then has, when the model is right', () => {
    const truth: Truth = {
      prior: posterior.prior,
      logarithms: posterior.mean,
      solve: (s) => solvePoint(toCase(s), { choke: false }),
    };
    const run = plan.runs[0]!;
    const trial = measuredRun('next', run.scenario, truth, 'laser', seeded(5));
    const fit = fitTrials(scenario, [trial], { starts: 1 })!;
    questions.forEach((question, i) => {
      const promised = run.errors[i]!;
      const found = errorOf(question, fit.covariance);
      expect(found / promised).toBeGreaterThan(0.5);
      expect(found / promised).toBeLessThan(2);
    });
  });

  test('the error of an answer is √(gᵀCg), here by hand', () => {
    const covariance = posterior.covariance.clone().mul(0);
    covariance.set(0, 0, 4);
    covariance.set(1, 1, 9);
    const gradient = posterior.mean.map((_, i) => (i === 0 ? 3 : i === 1 ? 1 : 0));
    close(errorOf({ text: '', value: 0, scale: 1, gradient }, covariance), Math.sqrt(45), 1e-12);
    expect(powderOf(scenario, { ...budget, minimumRun: 50 })).toBe(50.5);
  });
});
