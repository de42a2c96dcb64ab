import { sizeAt } from '../model/psd/curve.ts';
import type { Outcome } from '../scenario/outcome/outcome.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import { posteriorOf } from './calibration/take-up.ts';
import { bandOf } from './fit/quantile.ts';
import { chanceOver, pointInWorld, worldsOf } from './posterior-samples.ts';

/** Worlds behind every probability and band of one point. */
const WORLDS = 200;
const SHARES = [0.1, 0.5, 0.9, 0.95, 0.97] as const;

/**
 * An outcome with what its calibration says of its spread: chance of each line of the spec and of the whole, and 95 % bands
 * of percentiles, power and outlet temperature, with model, feed-lot and analyser spread. Without a calibration the outcome
 * comes back as it is.
 *
 * @param seed the same seed gives the same numbers
 */
export function withSpread(scenario: Scenario, outcome: Outcome, seed = 1): Outcome {
  if (!scenario.calibration) return outcome;
  const posterior = posteriorOf(scenario);
  const points = worldsOf(posterior, WORLDS, seed).map((world) => pointInWorld(scenario, posterior, world));
  const chance = chanceOver(scenario.spec, points);
  const steady = points.filter((point) => point.status === 'steady');
  const band = (values: readonly number[]): readonly number[] => {
    const { low, median, high } = bandOf(values);
    return [low, median, high];
  };
  const sizes = SHARES.map((share) => [
    `x${100 * share}_um`,
    band(steady.map(({ curve }) => toShown(sizeAt(curve, share), 'um'))),
  ]);
  const { joint: _joint, values: _values, ...head } = scenario.calibration;
  return {
    ...outcome,
    spec: outcome.spec.map((line, i) => ({ ...line, probability: chance.lines[i]! })),
    calibration: {
      ...head,
      ...(outcome.spec.length > 0 ? { probabilityOfSpec: chance.whole } : {}),
      probabilityOfChoke: chance.chokes,
      bands95: {
        ...Object.fromEntries(sizes),
        power_kW: band(steady.map(({ state }) => toShown(state.conditions.rotorPower, 'kW'))),
        outletTemperature_C: band(steady.map(({ state }) => toShown(state.conditions.temperature, 'degC'))),
      },
      worlds: WORLDS,
    },
  };
}
