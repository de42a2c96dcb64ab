import { expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { scenarioOfGrade } from '../../../src/scenario/scenario-of-grade.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import type { Posterior } from '../../../src/trials/fit/fit.ts';
import { fitTrials } from '../../../src/trials/fit/fit.ts';
import { drawsOf, predictPercentiles } from '../../../src/trials/fit/predict.ts';
import { readTrialLogs } from '../../../src/trials/log/file.ts';

const LOG = 'scenarios/data/trials/erythritol.csv';
/** Runs of the log whose x95 lies above 80 µm: they made the coarse grade and no other. */
const COARSE = ['E1', 'E3', 'E5'];
/** A run of the log that made the finest grade, x95 55.6 µm, and none of the fit. */
const FINE = 'E2';

test('trials of one grade narrow the band of another that was not run, and its own run lies inside', async () => {
  const graded = await loadScenario('scenarios/erythritol-grades.yaml');
  const { trials } = await readTrialLogs([LOG], graded);
  const fine = trials.find(({ name }) => name === FINE)!;
  const fit = fitTrials(
    graded,
    trials.filter(({ name }) => COARSE.includes(name)),
  )!;
  const finest: Scenario = { ...scenarioOfGrade(graded, 'finest'), settings: fine.scenario.settings };
  const band = (posterior: Posterior) => {
    const { sizes, power } = predictPercentiles(finest, posterior, [0.5, 0.95], drawsOf(posterior, 200));
    return [...sizes, power];
  };
  const [before, after] = [band(posteriorOf(graded)), band(fit)];
  const width = ({ low, high }: { readonly low: number; readonly high: number }) => Math.log(high / low);
  const left = after.map((each, k) => width(each) / width(before[k]!));
  // x50, x95 and power: at most a fifth of the band of assumed coefficients is left
  for (const share of left) expect(share).toBeLessThan(1 / 5);
  const measured = [22.4e-6, 55.6e-6, 6070];
  measured.forEach((value, k) => {
    expect(value).toBeGreaterThan(after[k]!.low);
    expect(value).toBeLessThan(after[k]!.high);
  });
}, 60_000);
