import { sizeAt } from '../model/psd/curve.ts';
import { shownAfter } from '../scenario/casing-of-scenario.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { SETTING_ERROR } from './fit/compare.ts';
import type { Posterior } from './fit/fit.ts';
import { type Band, bandOf } from './fit/quantile.ts';
import { pointOfSample, samplesOf } from './posterior-samples.ts';
import { normal, type Random, seeded } from './random.ts';
import { MEASUREMENT_ERRORS } from './trial.ts';

/** 95 % bands of what will be read on a run, SI. */
export interface Readings {
  /** Rotor power by its meter [W]. */
  readonly power: Band;
  /** What a thermometer in the outlet shows at the end of the run [K]. */
  readonly temperature: Band;
  /** x50 and x95 by the analyser [m]. */
  readonly x50: Band;
  readonly x95: Band;
}

/** As many as a calibration has draws: fewer put the ends of a 95 % band too near. */
const SAMPLES = 400;

/**
 * What to expect of a run before it is made: model, feed-lot, analyser and power-meter spread together, since it is readings
 * that will be held against the bands. Samples that choke are left out.
 *
 * @param scenario at the settings of the run
 * @param seed the same seed gives the same bands
 * @param after how long the run has gone on from a cold mill [s]; at rest unless given
 */
export function expectedReadings(
  scenario: Scenario,
  posterior: Posterior,
  seed = 1,
  after = Number.POSITIVE_INFINITY,
): Readings {
  const random = seeded(seed);
  const points = samplesOf(posterior, SAMPLES, seed)
    .map((sample) => pointOfSample(scenario, posterior, sample))
    .filter((point) => point.status === 'steady');
  const read = powerReader(random);
  return {
    power: bandOf(points.map(({ state }) => read(state.conditions))),
    temperature: bandOf(points.map(({ state }) => shownAfter(scenario, state.conditions.temperature, after))),
    x50: bandOf(points.map(({ curve }) => sizeAt(curve, 0.5))),
    x95: bandOf(points.map(({ curve }) => sizeAt(curve, 0.95))),
  };
}

/** Rotor power as its meter reads it, with feed rate and speed not quite as set [W]. */
export function powerReader(
  random: Random,
): (conditions: { readonly rotorPower: number; readonly grindingPower: number }) => number {
  return ({ rotorPower, grindingPower }) =>
    (rotorPower + grindingPower * SETTING_ERROR * normal(random)) *
    (1 + MEASUREMENT_ERRORS.power * normal(random));
}
