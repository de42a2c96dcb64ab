import { describe, expect, test } from 'vitest';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { findSupported } from '../../../src/search/find/chance-constrained.ts';
import { findSettings } from '../../../src/search/find/find.ts';
import { searchSpace } from '../../../src/search/find/space.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import { fitTrials } from '../../../src/trials/fit/fit.ts';
import { chanceOf, samplesOf } from '../../../src/trials/posterior-samples.ts';
import { seeded } from '../../../src/trials/random.ts';
import { calibrated } from '../../campaign/calibrated.ts';
import { campaign, campaignScenario, hiddenTruth } from '../../campaign/campaign.ts';

/** Speeds alone vary, with the one wheel of the campaign, at a fixed feed rate. */
function speedsOnly(scenario: Scenario): Scenario {
  const factors = scenario.sweep!.factors.filter(
    ({ path }) => path === 'rotorSpeed' || path === 'wheelSpeed',
  );
  const spec = scenario.spec.filter(({ text }) => !text.startsWith('x50'));
  const { goal: _goal, ...rest } = scenario;
  return { ...rest, spec, sweep: { ...scenario.sweep!, factors } };
}

describe('settings at a confidence', () => {
  const scenario = speedsOnly(campaignScenario());
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new Error(space);
  const random = seeded(101);
  const truth = hiddenTruth(campaignScenario(), random);
  const fit = fitTrials(scenario, campaign(scenario, truth, 4, 'laser', random), { starts: 1 })!;

  test('a calibrated model supports them, as samples of another seed confirm; nothing is promised beyond that', () => {
    const known = calibrated(scenario, fit);
    const answer = findSupported(known, space, findSettings(known, space), 0.8, 1);
    expect(answer.supported).toBe(true);
    expect(answer.probability).toBeGreaterThanOrEqual(0.8);
    const posterior = posteriorOf(known);
    const other = chanceOf(answer.best.scenario, posterior, samplesOf(posterior, 200, 77));
    expect(other.whole).toBeGreaterThan(0.72);
  });

  test('without trials the same confidence is not supported, and it is said that the model is uncalibrated', () => {
    const answer = findSupported(scenario, space, findSettings(scenario, space), 0.95, 1);
    expect(answer.supported).toBe(false);
    expect(answer.calibrated).toBe(false);
    expect(answer.probability).toBeLessThan(0.95);
  });
});
