import { Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { toCase } from '../../../src/scenario/operating-point.ts';
import type { Solved } from '../../../src/scenario/outcome/quantity.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { type SearchSpace, searchSpace } from '../../../src/search/find/space.ts';
import { type Budget, budgetOf, runCost } from '../../../src/search/next/budget.ts';
import { EXPECTED_ERRORS, modelWith, plannedTrial } from '../../../src/search/next/candidate-trial.ts';
import { covarianceAfter } from '../../../src/search/next/choose.ts';
import { answerAt, doubtOf, steepness, varianceOf } from '../../../src/search/next/decision.ts';
import { planTrials } from '../../../src/search/next/plan.ts';
import { safeRaise, settingsShift } from '../../../src/search/next/value-of-trial.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { priorOf } from '../../../src/trials/fit/coefficients.ts';
import { fillResiduals, prepareComparison, slopesOf } from '../../../src/trials/fit/compare.ts';
import { fitTrials, type Posterior } from '../../../src/trials/fit/fit.ts';
import { bandOf } from '../../../src/trials/fit/quantile.ts';
import { seeded } from '../../../src/trials/random.ts';
import { movesOf } from '../../bench/next-stop.ts';
import {
  askingProduct,
  BLIND,
  campaign,
  campaignScenario,
  feedFree,
  hiddenTruth,
  measuredRun,
  numbersOnly,
  RUNS,
  type Settings,
  scenarioAt,
} from '../../campaign/campaign.ts';
import { oneMoreEach } from '../../campaign/stopping.ts';
import { byNext, type Forecast, follow, ONE_AT_A_TIME, oneAtATime } from '../../campaign/strategies.ts';
import { close } from '../../close.ts';

const scenario = numbersOnly(campaignScenario());
const space = searchSpace(scenario) as SearchSpace;
const asked = scenarioAt(scenario, { rotorSpeed: 6400 / 60, wheelSpeed: 1800 / 60, feedRate: 300 / 3600 });
const rich: Budget = budgetOf(
  { ...scenario, powder: { have: 500, reserve: 0, lossPerRun: 0.5, minimumRun: 2 } },
  24,
);

/** The largest feed rate at these speeds, to 1 %, at which the model runs. */
function lastBeforeChoke(at: Settings, posterior: Posterior): { point: Scenario; feed: number } {
  let feed = 50 / 3600;
  const there = (rate: number) => scenarioAt(scenario, { ...at, feedRate: rate });
  while (modelWith(there(1.01 * feed), posterior, posterior.mean).status === 'steady') feed *= 1.01;
  return { point: there(feed), feed };
}

describe('settings that miss the spec', () => {
  const prior = priorOf(scenario);
  const posterior = { prior, mean: prior.mean, covariance: prior.covariance, discrepancy: 0.01 };
  it('are named, however sure it is, and those that meet it are not', () => {
    const slow = scenarioAt(scenario, { rotorSpeed: 4200 / 60, wheelSpeed: 1000 / 60, feedRate: 300 / 3600 });
    expect(answerAt(slow, posterior).missed).toEqual(['passing(75 um) >= 95 %']);
    const fast = scenarioAt(scenario, { rotorSpeed: 5700 / 60, wheelSpeed: 1800 / 60, feedRate: 200 / 3600 });
    expect(answerAt(fast, posterior).missed).toEqual([]);
  });
});

describe('what a trial would tell', () => {
  it('one measurement y = θ₁ + θ₂ of unit error on a unit prior leaves variances 2/3 and covariance −1/3 (derived)', () => {
    const after = covarianceAfter(
      Matrix.eye(2),
      new Matrix([
        [1, 1],
        [1, 1],
      ]),
    );
    close(after.get(0, 0), 2 / 3, 1e-12);
    close(after.get(0, 1), -1 / 3, 1e-12);
    close(varianceOf([1, 1], after), 2 / 3, 1e-12);
  });

  it('is what the fit then finds: standard errors foretold and found agree', () => {
    const posterior = posteriorOf(scenario);
    const solve = (there: Scenario) => modelWith(there, posterior, posterior.mean);
    const truth = { prior: posterior.prior, coordinates: posterior.mean, solve };
    const [run] = campaign(scenario, truth, 1, 'laser', seeded(5));
    const trial = plannedTrial(run!.scenario, posterior, 'laser')!;
    const foretold = covarianceAfter(posterior.covariance, trial.information);
    const fit = fitTrials(scenario, [run!], { starts: 2 })!;
    // the trial is noisy and the model curved, so each error is foretold within a quarter; the draws know it to a tenth
    fit.mean.forEach((_, i) => {
      const ratio = Math.sqrt(fit.covariance.get(i, i) / foretold.get(i, i));
      expect(ratio).toBeGreaterThan(0.68);
      expect(ratio).toBeLessThan(1.35);
    });
  });
});

describe('a trial planned and the same trial measured', () => {
  const prior = posteriorOf(scenario);
  /** As after a trial or two: from there on what is common to a curve matters most. */
  const posterior = { ...prior, covariance: Matrix.mul(prior.covariance, 0.1) };
  const { lines } = answerAt(askingProduct(asked), posterior);

  it.each(['laser', 'sieve'] as const)('without noise, by %s, tell the same of x50 and x95', (method) => {
    for (const settings of RUNS) {
      const there = scenarioAt(scenario, settings);
      const { information } = plannedTrial(there, posterior, method)!;
      const foretold = covarianceAfter(posterior.covariance, information);
      const measured = covarianceAfter(posterior.covariance, informationOf(there, posterior, method));
      for (const { gradient } of lines)
        close(Math.sqrt(varianceOf(gradient, foretold)), Math.sqrt(varianceOf(gradient, measured)), 0.03);
    }
  });
});

/** JᵀJ of a trial run where the mean is the truth, made ready as a fit makes it. */
function informationOf(there: Scenario, posterior: Posterior, method: 'laser' | 'sieve'): Matrix {
  const { prior, mean, covariance, discrepancy } = posterior;
  const solved = (at: readonly number[]) => modelWith(there, posterior, at) as Solved;
  const truth = { prior, coordinates: mean, solve: () => modelWith(there, posterior, mean) };
  // a quarter makes every normal number 0
  const trial = measuredRun('run', there, truth, method, () => 0.25);
  const { curve } = prepareComparison(trial, EXPECTED_ERRORS);
  const slopes = slopesOf(solved(mean), curve);
  const comparison = prepareComparison(trial, EXPECTED_ERRORS, discrepancy, slopes);
  const jacobian = Matrix.zeros(comparison.length, mean.length);
  mean.forEach((_, k) => {
    const step = 0.5 * Math.sqrt(covariance.get(k, k));
    const [above, below] = [step, -step].map((by) => {
      const out = new Float64Array(comparison.length);
      fillResiduals(comparison, solved(mean.map((value, i) => (i === k ? value + by : value))), out, 0);
      return out;
    });
    above!.forEach((value, i) => {
      jacobian.set(i, k, (value - below![i]!) / (2 * step));
    });
  });
  return jacobian.transpose().mmul(jacobian);
}

describe('the stop', () => {
  const line = { text: 'x95', value: 0, gradient: [1] };
  const answer = { scenario, lines: [line], missed: [] };

  it('asks how far the best value moves: by √(C − C′), 1.645 of it in 90 % of samples (derived)', () => {
    const known = (variance: number) => new Matrix([[variance]]);
    close(settingsShift(answer, [2], known(0.25), known(0.16)), (1.644853627 * 0.3) / 2, 1e-12);
    close(settingsShift(answer, [2], known(0.25)), (1.644853627 * 0.5) / 2, 1e-12);
    expect(settingsShift(answer, [0], known(0.25))).toBe(0);
    // 1.645 standard errors inside a limit: 0.5 known to 0.4 lets a setting of slope 2 go on by half of 1.645 · 0.1
    close(safeRaise(answer, [2], known(0.25), known(0.16)), (1.644853627 * 0.1) / 2, 1e-12);
  });

  it('sees the slopes of settings beyond which the mill chokes', () => {
    const posterior = posteriorOf(scenario);
    const slow = { rotorSpeed: 5000 / 60, wheelSpeed: 1000 / 60, feedRate: 0 };
    const { point, feed } = lastBeforeChoke(slow, posterior);
    expect(
      modelWith(scenarioAt(scenario, { ...slow, feedRate: 1.02 * feed }), posterior, posterior.mean).status,
    ).toBe('choked');
    const there = answerAt(point, posterior);
    expect(there.lines.length).toBeGreaterThan(0);
    const slopes = steepness(there, posterior, {
      ...space,
      numbers: space.numbers.filter((j) => space.factors[j]!.path === 'feedRate'),
    });
    expect(Math.max(...slopes)).toBeGreaterThan(0.1);
  });

  it('comes when one more trial would move the settings little, and not after the first', () => {
    const free = feedFree(scenario);
    const steps = Array.from({ length: 5 }, (_, k) => {
      const truth = hiddenTruth(free, seeded(500 + k));
      return oneMoreEach(free, truth, 6, seeded(7500 + k));
    }).flat();
    const first = steps.filter(({ trials }) => trials === 1);
    expect(first.map(({ stop }) => stop)).toEqual(first.map(() => false));
    expect(movesOf(first).feed).toBeLessThan(0.5);
    const stopped = steps.filter(({ stop }) => stop);
    expect(stopped.length).toBeGreaterThanOrEqual(3);
    // of the feed rate, which is the goal: along the speeds that give the same of it the best is flat
    expect(movesOf(stopped).feed).toBeGreaterThan(0.5);
  }, 600_000);
});

describe('the plan', () => {
  it('lowers the doubt with every run, within speeds, motor and the limits that guard the mill', () => {
    const plan = planTrials(scenario, space, posteriorOf(scenario), rich, {
      count: 3,
      method: 'laser',
      answerAt: asked,
    });
    expect(plan.runs.length).toBeGreaterThanOrEqual(2);
    const order = [...plan.runs].sort((a, b) => b.before - a.before);
    order.forEach((run, i) => {
      expect(run.after).toBeLessThan(run.before);
      if (i > 0) close(run.before, order[i - 1]!.after, 1e-9);
      const { state, case: c } = run.trial.expected;
      expect(c.settings.rotorSpeed).toBeLessThanOrEqual(c.rotor.maxSpeed);
      expect(state.conditions.rotorPower).toBeLessThanOrEqual(0.9 * state.conditions.availablePower);
      expect(state.conditions.temperature).toBeLessThanOrEqual(323.15);
    });
    expect(plan.repeat).toBeDefined();
  });

  it('keeps within powder and hours, loss and wheel changes counted', () => {
    const poor = budgetOf(
      { ...scenario, powder: { have: 22, reserve: 4, lossPerRun: 0.5, minimumRun: 2 } },
      3,
    );
    const plan = planTrials(scenario, space, posteriorOf(scenario), poor, {
      count: 5,
      method: 'laser',
      answerAt: asked,
    });
    expect(plan.powder).toBeLessThanOrEqual(18);
    expect(plan.time).toBeLessThanOrEqual(3 * 3600);
    expect(plan.ends === 'powder' || plan.ends === 'settled').toBe(true);
    const { feedRate } = toCase(asked).settings;
    const alone = runCost(poor, asked, undefined);
    close(alone.feed, feedRate * 240, 1e-12);
    close(
      runCost(poor, asked, 'another').time - runCost(poor, asked, asked.settings.wheel).time,
      2700,
      1e-12,
    );
    const none = planTrials(
      scenario,
      space,
      posteriorOf(scenario),
      { ...poor, powder: 1 },
      { count: 1, method: 'laser', answerAt: asked },
    );
    expect(none.runs).toHaveLength(0);
    expect(none.ends).toBe('powder');
  });

  it('stops when another trial would not move the settings', () => {
    const posterior = posteriorOf(scenario);
    const known = { ...posterior, covariance: Matrix.mul(posterior.covariance, 1e-6) };
    const plan = planTrials(scenario, space, known, rich, { count: 3, method: 'laser', answerAt: asked });
    expect(plan.runs).toHaveLength(0);
    expect(plan.ends).toBe('settled');
  });

  it('does not stop where nothing but a wheel is to be chosen: no setting could answer', () => {
    const only = { kind: 'levels', path: 'wheel', levels: ['medium-leaning'], shownIn: '1' } as const;
    const wheels = { ...scenario, sweep: { ...scenario.sweep!, factors: [only] } };
    const plan = planTrials(wheels, searchSpace(wheels) as SearchSpace, posteriorOf(wheels), rich, {
      count: 1,
      method: 'laser',
      answerAt: asked,
    });
    expect(plan.runs).toHaveLength(1);
    expect(plan.ends).toBe('asked');
  });

  it('asks of the answer, not of the coefficients: what cannot change it is left out', () => {
    const posterior = posteriorOf(scenario);
    const texts = (scale: number) =>
      answerAt(asked, {
        ...posterior,
        covariance: Matrix.mul(posterior.covariance, scale),
      }).lines.map(({ text }) => text);
    expect(texts(1)).toEqual([...scenario.spec.map(({ text }) => text), scenario.goal!.text]);
    expect(texts(1e-6)).toEqual([scenario.goal!.text]);
    const answer = answerAt(asked, posterior);
    close(
      doubtOf(answer, Matrix.mul(posterior.covariance, 4)),
      4 * doubtOf(answer, posterior.covariance),
      1e-12,
    );
  });
});

describe('campaigns', () => {
  const forecasts: Forecast[] = [];

  it('by next know x95 after three trials as well as one factor at a time after four', () => {
    const question = askingProduct(asked);
    const errors = { next: 0, habit: 0 };
    let count = 0;
    for (let k = 0; k < 5; k++) {
      const settings = [...RUNS, ...BLIND, ...ONE_AT_A_TIME];
      const truth = hiddenTruth(scenario, seeded(9000 + k), undefined, settings);
      if (truth.solve(question).status !== 'steady') continue;
      count++;
      const next = follow(question, truth, byNext(scenario, question, truth), 3, seeded(77 + k));
      const habit = follow(question, truth, oneAtATime(scenario), 4, seeded(77 + k));
      forecasts.push(...next.flatMap(({ forecast }) => forecast ?? []));
      errors.next += next[2]!.error ** 2;
      errors.habit += habit[3]!.error ** 2;
    }
    expect(count).toBeGreaterThanOrEqual(3);
    expect(Math.sqrt(errors.next / count)).toBeLessThan(Math.sqrt(errors.habit / count) * 1.15);
  }, 600_000);

  // known shortfall: since the sampler reaches the tails fits state 1.3 times what a linear look foretells; red once it is mended
  it.fails('what was foretold of each trial is what the fit then states, to a fifth in the median', () => {
    const { median } = bandOf(forecasts.map(({ found, foretold }) => found / foretold));
    expect(median).toBeGreaterThan(1 / 1.2);
    expect(median).toBeLessThan(1.2);
  });
});
