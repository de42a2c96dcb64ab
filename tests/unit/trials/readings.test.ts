import { Matrix } from 'ml-matrix';
import { expect, test } from 'vitest';
import { percentileOf } from '../../../src/scenario/measurement/measured-curve.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { drawsOf, pointIn } from '../../../src/trials/fit/predict.ts';
import { seeded } from '../../../src/trials/random.ts';
import { expectedReadings } from '../../../src/trials/readings.ts';
import { campaignScenario, measuredRun, RUNS, scenarioAt } from '../../campaign/campaign.ts';

test('what is read of a run lies in its 95 % bands in 95 % of truths, once the model is well known too', () => {
  const scenario = campaignScenario();
  const prior = posteriorOf(scenario);
  // as after some trials: then what is left is mostly the analyser and the meter
  const posterior = { ...prior, covariance: Matrix.mul(prior.covariance, 1e-3), discrepancy: 0.01 };
  const random = seeded(5);
  const counts = { power: 0, x95: 0 };
  const truths = drawsOf(posterior, 100, 77);
  const runs = RUNS.slice(0, 3);
  for (const settings of runs) {
    const there = scenarioAt(scenario, settings);
    const { power, x95 } = expectedReadings(there, posterior);
    for (const draw of truths) {
      const truth = { prior: prior.prior, coordinates: [], solve: () => pointIn(there, posterior, draw) };
      const run = measuredRun('run', there, truth, 'laser', random, draw.scatter);
      const size = percentileOf(run.sizes!, 0.95);
      counts.power += Number(run.power!.value >= power.low && run.power!.value <= power.high);
      counts.x95 += Number(size >= x95.low && size <= x95.high);
    }
  }
  const all = runs.length * truths.length;
  // 300 counts of 95 %: less and more by three standard errors
  for (const count of Object.values(counts)) {
    expect(count / all).toBeGreaterThan(0.91);
    expect(count / all).toBeLessThan(0.99);
  }
});
