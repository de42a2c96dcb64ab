import type { Conditions } from '../model/loop/state.ts';
import { sizeAt } from '../model/psd/curve.ts';
import type { Outcome } from '../scenario/outcome/outcome.ts';
import type { Point } from '../scenario/outcome/solved.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { calibrationStanding } from './calibration/calibration-standing.ts';
import { posteriorOf } from './calibration/take-up.ts';
import { bandOf } from './fit/quantile.ts';
import { chanceOver, readingIn, samplesOf, truthOfSample } from './posterior-samples.ts';
import { seeded } from './random.ts';
import { powerReader } from './readings.ts';

/** Samples behind every probability and band of one point. */
const SAMPLES = 200;
const SHARES = [0.1, 0.5, 0.9, 0.95, 0.97] as const;
const READING_STREAM = 0x51ed;

/**
 * An outcome with what its calibration says of its spread: chance of each line of the spec and of the whole as it would be
 * measured, and 95 % bands of percentiles, power and outlet temperature, each with its median between its ends: of the truth
 * (coefficients, model and feed lot) and of a reading (analyser, meter, feeder and speed as well). Without a calibration
 * the outcome comes back as it is.
 *
 * @param seed the same seed gives the same numbers
 */
export function withSpread(scenario: Scenario, outcome: Outcome, seed = 1): Outcome {
  if (!scenario.calibration) return outcome;
  const posterior = posteriorOf(scenario);
  const samples = samplesOf(posterior, SAMPLES, seed);
  const truths = samples.map((sample) => truthOfSample(scenario, posterior, sample));
  const readings = truths.map((truth, k) => readingIn(truth, samples[k]!));
  const chance = chanceOver(scenario.spec, readings);
  const { joint: _joint, values: _values, ...head } = scenario.calibration;
  return {
    ...outcome,
    spec: outcome.spec.map((line, i) => ({ ...line, probability: chance.lines[i]! })),
    calibration: {
      ...head,
      ...calibrationStanding(scenario),
      ...(outcome.spec.length > 0 ? { probabilityOfSpec: chance.whole } : {}),
      probabilityOfChoke: chance.chokes,
      bandsOfTruth95: bandsOf(truths, ({ rotorPower }) => rotorPower),
      bandsOfReading95: bandsOf(readings, powerReader(seeded(seed ^ READING_STREAM))),
      samples: SAMPLES,
    },
  };
}

/** Low end, median and high end of every number; points that choke are left out. */
function bandsOf(points: readonly Point[], powerOf: (conditions: Conditions) => number) {
  const steady = points.filter((point) => point.status === 'steady');
  const band = (values: readonly number[]): readonly number[] => {
    const { low, median, high } = bandOf(values);
    return [low, median, high];
  };
  const sizes = SHARES.map((share) => [
    `x${100 * share}_um`,
    band(steady.map(({ curve }) => toShown(sizeAt(curve, share), 'um'))),
  ]);
  return {
    ...Object.fromEntries(sizes),
    power_kW: band(steady.map(({ state }) => toShown(powerOf(state.conditions), 'kW'))),
    outletTemperature_C: band(steady.map(({ state }) => toShown(state.conditions.temperature, 'degC'))),
  };
}
