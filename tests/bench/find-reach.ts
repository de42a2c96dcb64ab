import { demoCase, loadScenario } from '../../src/scenario/load.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { findSupported, type Supported } from '../../src/search/find/chance-constrained.ts';
import { findSettings } from '../../src/search/find/find.ts';
import { benchOfSamples, type SampleBench } from '../../src/search/find/posterior-margins.ts';
import { type SearchSpace, searchSpace } from '../../src/search/find/space.ts';
import { posteriorOf } from '../../src/trials/calibration/take-up.ts';
import { fitTrials } from '../../src/trials/fit/fit.ts';
import { type CoefficientSample, samplesOf } from '../../src/trials/posterior-samples.ts';
import { seeded } from '../../src/trials/random.ts';
import { calibrated } from '../campaign/calibrated.ts';
import {
  campaign,
  campaignScenario,
  feedFree,
  hiddenTruth,
  RUNS,
  scenarioAt,
  type Truth,
} from '../campaign/campaign.ts';

/** How the settings found at one confidence stand where the search has not been. */
export interface Reach {
  readonly asked: number;
  /** Answers that were said to be supported, of so many calibrations. */
  readonly supported: number;
  readonly calibrations: number;
  /** Mean share of unseen samples that meet the whole spec, over supported answers, and the least. */
  readonly samples: number;
  readonly least: number;
  /** The same in the hidden truth, with feed lot and analyser alone left to chance. */
  readonly truth: number;
  /** Share of the supported answers whose settings meet the whole spec in the hidden truth more often than not. */
  readonly met: number;
  /** Processor time of one search [s], mean and most. */
  readonly seconds: number;
  readonly most: number;
  /** Chances of the column "chance, about" less those over unseen samples: mean, and root mean square over their standard errors. */
  readonly chanceBias: number;
  readonly chanceSpread: number;
}

const UNSEEN = 2000;
const UNSEEN_SEED = 40_000_007;
const TRIALS = 4;

/** A scenario calibrated on trials of a mill whose coefficients are hidden. */
interface Known {
  readonly scenario: Scenario;
  readonly space: SearchSpace;
  readonly truth: Truth;
}

/**
 * Searches at a confidence over calibrations of hidden truths, the demo case with all its wheels, so that the chance and not
 * a range ends the search.
 *
 * @param calibrations hidden truths drawn
 * @param confidences 0…1
 */
export async function reachOfFind(
  calibrations: number,
  confidences: readonly number[] = [0.8, 0.9, 0.95],
): Promise<Reach[]> {
  const demo = feedFree(await loadScenario(demoCase('erythritol')));
  const known = Array.from({ length: calibrations }, (_, k) => calibrationOf(demo, 101 + k));
  return confidences.map((asked) => reachAt(asked, known));
}

function calibrationOf(demo: Scenario, seed: number): Known {
  const random = seeded(seed);
  const truth = hiddenTruth(campaignScenario(), random);
  const trials = campaign(campaignScenario(), truth, TRIALS, 'laser', random).map((trial, i) => ({
    ...trial,
    scenario: scenarioAt(demo, RUNS[i]!),
  }));
  const scenario = calibrated(demo, fitTrials(demo, trials)!);
  const space = searchSpace(scenario);
  if (typeof space === 'string') throw new Error(space);
  return { scenario, space, truth };
}

function reachAt(asked: number, known: readonly Known[]): Reach {
  const rows = known.map(({ scenario, space, truth }) => {
    const begun = process.cpuUsage();
    const answer = findSupported(scenario, space, findSettings(scenario, space), asked);
    const { user, system } = process.cpuUsage(begun);
    const posterior = posteriorOf(scenario);
    const unseen = samplesOf(posterior, UNSEEN, UNSEEN_SEED);
    const bench = (samples: readonly CoefficientSample[]) =>
      benchOfSamples(scenario, space.factors, posterior, samples);
    const overSamples = bench(unseen);
    const inTruth = bench(unseen.map((sample) => inTheTruth(sample, scenario, truth)));
    const misses = answer.byChoice.map(({ point, chance, error }) => {
      const miss = chance - heldIn(overSamples, point.coordinates);
      return { miss, over: miss / error };
    });
    return {
      answer,
      seconds: (user + system) / 1e6,
      samples: heldIn(overSamples, answer.best.coordinates),
      truth: heldIn(inTruth, answer.best.coordinates),
      misses,
    };
  });
  return figuresOf(asked, rows);
}

interface Row {
  readonly answer: Supported;
  readonly seconds: number;
  readonly samples: number;
  readonly truth: number;
  readonly misses: readonly { readonly miss: number; readonly over: number }[];
}

function figuresOf(asked: number, rows: readonly Row[]): Reach {
  const supported = rows.filter(({ answer }) => answer.supported);
  const misses = rows.flatMap((row) => row.misses);
  return {
    asked,
    supported: supported.length,
    calibrations: rows.length,
    samples: mean(supported.map(({ samples }) => samples)),
    least: Math.min(...supported.map(({ samples }) => samples)),
    truth: mean(supported.map(({ truth }) => truth)),
    met: mean(supported.map(({ truth }) => (truth > 0.5 ? 1 : 0))),
    seconds: mean(rows.map(({ seconds }) => seconds)),
    most: Math.max(...rows.map(({ seconds }) => seconds)),
    chanceBias: mean(misses.map(({ miss }) => miss)),
    chanceSpread: Math.sqrt(mean(misses.map(({ over }) => over ** 2))),
  };
}

/** The hidden coefficients in place of those drawn; a truth of the model's own kind has no error of the model. */
function inTheTruth(
  sample: CoefficientSample,
  scenario: Scenario,
  { prior, coordinates }: Truth,
): CoefficientSample {
  const known = new Map(prior.coefficients.map(({ path }, i) => [path, coordinates[i]!]));
  const { coefficients } = posteriorOf(scenario).prior;
  return {
    ...sample,
    coordinates: coefficients.map(({ path }, i) => known.get(path) ?? sample.coordinates[i]!),
    sizeError: () => 0,
    powerError: 0,
  };
}

/** Share of all the samples in which the whole spec is met. */
function heldIn({ samples, lines, marginsAt }: SampleBench, coordinates: Float64Array): number {
  const margins = marginsAt(coordinates, samples);
  let held = 0;
  for (let k = 0; k < samples; k++) {
    if (margins.subarray(k * lines, (k + 1) * lines).every((margin) => margin >= 0)) held++;
  }
  return held / samples;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** One figure a name, for the list of the bench. */
export function reachFigures(reaches: readonly Reach[]): Record<string, number> {
  return Object.fromEntries(
    reaches.flatMap(({ asked, ...figures }) =>
      Object.entries(figures).map(([name, value]) => [`find_at_${100 * asked}_${name}`, value]),
    ),
  );
}
