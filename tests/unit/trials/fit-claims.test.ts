import { describe, expect, test } from 'vitest';
import { undersizeAt } from '../../../src/model/psd/curve.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import {
  combinationsKnown,
  intervalOf,
  settlesNothing,
} from '../../../src/trials/fit/coefficient-summary.ts';
import { priorOf } from '../../../src/trials/fit/coefficients.ts';
import { modelAt } from '../../../src/trials/fit/compare.ts';
import { fitTrials } from '../../../src/trials/fit/fit.ts';
import { leftAsGiven } from '../../../src/trials/fit/material.ts';
import { trialMisfits } from '../../../src/trials/fit/misfit.ts';
import { trialModel } from '../../../src/trials/fit/model.ts';
import { seeded } from '../../../src/trials/random.ts';
import { campaign, campaignScenario, hiddenTruth, RUNS, scenarioAt } from '../../campaign/campaign.ts';
import { FEW } from '../../campaign/light.ts';
import { close } from '../../close.ts';

const LIGHT = { starts: 4, effort: FEW };
const scenario = campaignScenario();

/** The demo with a second component of a given share. */
function withSecond(share: number): Scenario {
  const [first] = scenario.components;
  const second = { ...first!, share, material: { ...first!.material, name: 'silica' } };
  return {
    ...scenario,
    components: [{ ...first!, share: 1 - share }, second],
    provenance: {
      ...scenario.provenance,
      'components.0.material.density': scenario.provenance['material.density']!,
    },
  };
}

describe('what is fitted', () => {
  test('is the breakage of every component of which there is enough, and what is not is named', () => {
    const paths = priorOf(withSecond(0.4)).coefficients.map(({ path, symbol }) => `${path} ${symbol}`);
    expect(paths).toContain('components.0.material.selection.friability f_mat (erythritol)');
    expect(paths).toContain('components.1.material.selection.friability f_mat (silica)');
    expect(leftAsGiven(withSecond(0.4))).toEqual([]);
    const few = withSecond(0.02);
    expect(priorOf(few).coefficients.some(({ path }) => path.startsWith('components.1'))).toBe(false);
    expect(leftAsGiven(few)).toEqual([expect.stringContaining('silica, 2 % of the feed')]);
  });

  test('is what the records of a law say is believed, so that a law added later is calibrated too', () => {
    const [first] = scenario.components;
    const fragments = { law: 'two-power', fineShare: 0.4, fineExponent: 0.8, coarseExponent: 4 };
    const changed = {
      ...scenario,
      components: [{ ...first!, material: { ...first!.material, fragments } }],
    };
    const fitted = (one: Scenario): string[] =>
      priorOf(one).coefficients.flatMap(({ path }) => (/fragments/.test(path) ? [path] : []));
    expect(fitted(changed)).toEqual([
      'material.fragments.fineShare',
      'material.fragments.fineExponent',
      'material.fragments.coarseExponent',
    ]);
    const share = priorOf(changed).coefficients.find(({ path }) => path.endsWith('fineShare'))!;
    expect(share).toMatchObject({ prior: 0.4, scale: { kind: 'logit', low: 0, high: 1 }, spread: 0.8 });
    expect(
      fitted({
        ...changed,
        components: [
          { ...first!, material: { ...first!.material, fragments: { law: 'table', points: [[0.1, 0.2]] } } },
        ],
      }),
    ).toEqual([]);
  });

  test('materials made ready once give every trial the point it has alone', () => {
    const { coefficients, mean } = priorOf(scenario);
    const model = trialModel(coefficients);
    const trials = RUNS.slice(0, 3).map((settings, i) => ({
      name: `run ${i}`,
      scenario: scenarioAt(scenario, settings),
    }));
    for (const shift of [0, 0.1, 0]) {
      for (const trial of trials) {
        const at = mean.map((value, i) => value + (i === 3 ? shift : 0));
        const kept = model(trial, at);
        const alone = modelAt(trial, coefficients, at);
        if (kept.status !== 'steady' || alone.status !== 'steady') throw new Error('chokes');
        for (const size of [5e-6, 20e-6, 60e-6])
          close(undersizeAt(kept.curve, size), undersizeAt(alone.curve, size), 1e-12);
      }
    }
  });
});

describe('what is claimed', () => {
  test('before any trial nothing is settled, and intervals are ± 1.96 prior standard deviations', () => {
    const prior = posteriorOf(scenario);
    expect(settlesNothing(prior)).toBe(true);
    close(combinationsKnown(prior) + 1, 1, 1e-9);
    const [low, high] = intervalOf(prior, 0);
    close(Math.log(high / low), 2 * 1.959964 * prior.prior.coefficients[0]!.spread, 1e-6);
  });

  test('a run at other settings than the log says is named, and the others stand', () => {
    const random = seeded(44);
    const truth = hiddenTruth(scenario, random, undefined, RUNS);
    const trials = campaign(scenario, truth, 6, 'laser', random);
    const good = fitTrials(scenario, trials, LIGHT)!;
    expect(trialMisfits(good.solution, good.comparisons).every(({ fits }) => fits)).toBe(true);
    expect(good.suspects).toEqual([]);
    // the wheel ran at twice the speed that was written down
    const wrong = trials.map((trial, i) =>
      i === 1
        ? { ...trial, scenario: scenarioAt(scenario, { ...RUNS[1]!, wheelSpeed: RUNS[1]!.wheelSpeed / 2 }) }
        : trial,
    );
    const found = fitTrials(scenario, wrong, LIGHT)!;
    expect(found.lackOfFit).toBe(true);
    expect(found.suspects).toEqual(['run 2']);
  }, 600_000);

  test('a second optimum near the grind limit is found: a coarse threshold, far from where searches begin', () => {
    // the first truth of the prior whose threshold lies two standard deviations up
    let seed = 9000;
    const drawn = (): ReturnType<typeof hiddenTruth> =>
      hiddenTruth(scenario, seeded(seed), undefined, RUNS.slice(0, 1));
    const away = ({ prior, coordinates }: ReturnType<typeof hiddenTruth>): number => {
      const at = prior.coefficients.findIndex(({ path }) => path.endsWith('.threshold'));
      return coordinates[at]! - prior.mean[at]!;
    };
    let truth = drawn();
    while (away(truth) < 2) {
      seed++;
      truth = drawn();
    }
    const fit = fitTrials(scenario, campaign(scenario, truth, 1, 'laser', seeded(seed)))!;
    const threshold = fit.prior.coefficients.findIndex(({ symbol }) => symbol === 'c');
    const [low, high] = intervalOf(fit, threshold);
    expect(Math.exp(truth.coordinates[threshold]!)).toBeGreaterThan(low);
    expect(Math.exp(truth.coordinates[threshold]!)).toBeLessThan(high);
  });
});
