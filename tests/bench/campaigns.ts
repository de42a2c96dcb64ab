import { sizeAt } from '../../src/model/psd/curve.ts';
import { fitTrials } from '../../src/trials/fit/fit.ts';
import { drawsOf, predictPercentiles } from '../../src/trials/fit/predict.ts';
import { seeded } from '../../src/trials/random.ts';
import { BLIND, campaign, campaignScenario, hiddenTruth, scenarioAt } from '../campaign/campaign.ts';

const SHARES = [0.1, 0.5, 0.95] as const;
const DRAWS = 100;

/** What many campaigns with hidden truths show of the fit; the unit tests run a few of the same. */
export interface CampaignFigures {
  readonly campaigns: number;
  /** Share of blind settings whose true value lies within its 95 % band. */
  readonly covered_x10: number;
  readonly covered_x50: number;
  readonly covered_x95: number;
  readonly covered_power: number;
  /** Median of |x95 expected/true − 1| over blind settings. */
  readonly median_error_x95: number;
  /** Root mean square of (fitted − true)/error over coefficients; 1 where errors are honest. */
  readonly rms_standardised: number;
  /** Share of campaigns said not to fit, though the model is right. */
  readonly false_misfit: number;
  readonly seconds_per_fit: number;
}

/** Fits campaigns of `runs` runs each and holds the answers against their hidden truths. */
export function countCampaigns(
  campaigns: number,
  runs: number,
  method: 'laser' | 'sieve',
  seed = 500,
): CampaignFigures {
  const scenario = campaignScenario();
  const covered = [0, 0, 0, 0];
  const errors: number[] = [];
  let square = 0;
  let coefficients = 0;
  let misfits = 0;
  let spent = 0;
  for (let k = 0; k < campaigns; k++) {
    const random = seeded(seed + k);
    const truth = hiddenTruth(scenario, random);
    const trials = campaign(scenario, truth, runs, method, random);
    const begun = performance.now();
    const fit = fitTrials(scenario, trials);
    spent += performance.now() - begun;
    if (!fit) throw new Error(`campaign ${k} found no fit`);
    if (fit.lackOfFit) misfits++;
    fit.mean.forEach((value, i) => {
      square += (value - truth.logarithms[i]!) ** 2 / fit.covariance.get(i, i);
      coefficients++;
    });
    const draws = drawsOf(fit, DRAWS, 1);
    for (const blind of BLIND) {
      const there = scenarioAt(scenario, blind);
      const point = truth.solve(there);
      if (point.status === 'choked') throw new Error('the truth chokes');
      const bands = predictPercentiles(there, fit, SHARES, draws);
      SHARES.forEach((share, i) => {
        const x = sizeAt(point.curve, share);
        if (x >= bands.sizes[i]!.low && x <= bands.sizes[i]!.high) covered[i]!++;
        if (share === 0.95) errors.push(Math.abs(bands.sizes[i]!.median / x - 1));
      });
      const power = point.state.conditions.rotorPower;
      if (power >= bands.power.low && power <= bands.power.high) covered[3]!++;
    }
  }
  const blind = campaigns * BLIND.length;
  errors.sort((a, b) => a - b);
  return {
    campaigns,
    covered_x10: covered[0]! / blind,
    covered_x50: covered[1]! / blind,
    covered_x95: covered[2]! / blind,
    covered_power: covered[3]! / blind,
    median_error_x95: errors[errors.length >> 1]!,
    rms_standardised: Math.sqrt(square / coefficients),
    false_misfit: misfits / campaigns,
    seconds_per_fit: spent / campaigns / 1000,
  };
}
