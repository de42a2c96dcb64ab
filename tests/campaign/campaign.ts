import { readFileSync } from 'node:fs';
import { undersizeAt } from '../../src/model/psd/curve.ts';
import { demoCase, packageCatalogue } from '../../src/scenario/load.ts';
import type { MeasuredSample, SizePoint } from '../../src/scenario/measurement/measured-sample.ts';
import { toCase, withValues } from '../../src/scenario/operating-point.ts';
import { type Point, solvePoint } from '../../src/scenario/outcome/solved.ts';
import { parseScenario } from '../../src/scenario/parse.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { boundsOf } from '../../src/trials/fit/coefficient.ts';
import { type Prior, priorOf, withCoefficients } from '../../src/trials/fit/coefficients.ts';
import { cholesky } from '../../src/trials/fit/covariance.ts';
import { TYPICAL_SCATTER } from '../../src/trials/fit/error-levels.ts';
import { drawFrom } from '../../src/trials/fit/multistart.ts';
import { normal, type Random } from '../../src/trials/random.ts';
import type { Trial } from '../../src/trials/trial.ts';

/** The demo scenario with one wheel, so that a campaign speaks of what it can know. */
export function campaignScenario(): Scenario {
  const scenario = parseScenario(readFileSync(demoCase('erythritol'), 'utf8'), {
    ...packageCatalogue(),
    name: 'campaign',
  });
  const wheels = { 'medium-leaning': scenario.machine.wheels['medium-leaning']! };
  return { ...scenario, machine: { ...scenario.machine, wheels } };
}

/** A scenario with a feed rate free enough that motor and fineness end a search, not the range. */
export function feedFree(scenario: Scenario): Scenario {
  const factors = scenario.sweep!.factors.map((factor) =>
    factor.path === 'feedRate' && factor.kind === 'number'
      ? { ...factor, from: 50 * kgPerHour, to: 1500 * kgPerHour }
      : factor,
  );
  return { ...scenario, sweep: { ...scenario.sweep!, factors } };
}

/** The campaign's scenario with nothing but numbers to search. */
export function numbersOnly(scenario: Scenario): Scenario {
  const factors = scenario.sweep!.factors.filter(({ path }) => path !== 'wheel');
  return { ...scenario, sweep: { ...scenario.sweep!, factors } };
}

/** A scenario that asks nothing but its product: without spec and goal, median and x95 are the answer. */
export function askingProduct({ goal: _goal, ...rest }: Scenario): Scenario {
  return { ...rest, spec: [] };
}

export interface Settings {
  readonly rotorSpeed: number;
  readonly wheelSpeed: number;
  readonly feedRate: number;
}

const rpm = 1 / 60;
const kgPerHour = 1 / 3600;
const at = (rotor: number, wheel: number, feed: number): Settings => ({
  rotorSpeed: rotor * rpm,
  wheelSpeed: wheel * rpm,
  feedRate: feed * kgPerHour,
});

/** Settings a campaign of n runs goes through, in order; the first alone is a campaign of one. */
export const RUNS: readonly Settings[] = [
  at(5700, 1800, 200),
  at(5700, 2800, 140),
  at(4600, 1400, 140),
  at(6800, 2200, 300),
  at(5700, 1400, 320),
  at(6800, 3200, 160),
];

/** Ten settings never run, between and a little beyond the runs. */
export const BLIND: readonly Settings[] = [
  at(5200, 1600, 160),
  at(6200, 2400, 220),
  at(5000, 2000, 120),
  at(6600, 1800, 280),
  at(5700, 2200, 180),
  at(6000, 3000, 140),
  at(4800, 1500, 180),
  at(7000, 2600, 260),
  at(5500, 1300, 260),
  at(6400, 2000, 200),
];

export function scenarioAt(scenario: Scenario, settings: Settings): Scenario {
  const factors = [
    { path: 'rotorSpeed', as: 'shaft' },
    { path: 'wheelSpeed', as: 'shaft' },
    { path: 'feedRate' },
  ] as const;
  return withValues(scenario, factors, [settings.rotorSpeed, settings.wheelSpeed, settings.feedRate]);
}

/** A hidden truth that the mill can run at every setting of the campaign. */
export interface Truth {
  readonly prior: Prior;
  readonly coordinates: readonly number[];
  readonly solve: (scenario: Scenario) => Point;
}

/**
 * Draws hidden coefficients from the prior until the mill runs at every setting given. A test of coverage must ask no more
 * than that the trials themselves ran, since that is all the fit knows too.
 */
export function hiddenTruth(
  scenario: Scenario,
  random: Random,
  change = (s: Scenario): Scenario => s,
  settings: readonly Settings[] = [...RUNS, ...BLIND],
): Truth {
  const prior = priorOf(scenario);
  const lower = cholesky(prior.covariance);
  for (let tries = 0; tries < 2000; tries++) {
    const coordinates = drawFrom(prior.mean, lower, random);
    const inside = prior.coefficients.every((one, i) => {
      const [low, high] = boundsOf(one);
      return coordinates[i]! > low && coordinates[i]! < high;
    });
    if (!inside) continue;
    const solve = (s: Scenario): Point =>
      solvePoint(toCase(change(withCoefficients(s, prior.coefficients, coordinates))), { choke: false });
    const runs = settings.map((one) => solve(scenarioAt(scenario, one)));
    if (runs.every((point) => point.status === 'steady')) return { prior, coordinates, solve };
  }
  throw new Error('no truth found that the mill can run');
}

const LASER_SIZES = Array.from({ length: 70 }, (_, i) => 0.3e-6 * 10 ** (i / 18));
const SIEVES = [20e-6, 32e-6, 45e-6, 63e-6, 75e-6, 106e-6, 150e-6, 250e-6];

/**
 * One noisy run. Laser: sizes off by 3 % as a whole and tilted so that x10 and x90 are off by 5 %, and 0.2 % counting
 * noise in each class. Sieve: openings off by 3 %, weighing by 0.3 %. Power off by 3 %.
 */
export function measuredRun(
  name: string,
  scenario: Scenario,
  truth: Truth,
  method: 'laser' | 'sieve',
  random: Random,
  scatter = 1,
): Trial {
  const point = truth.solve(scenario);
  if (point.status !== 'steady') throw new Error('the truth chokes');
  const { curve } = point;
  const shift = scatter * 0.03 * normal(random);
  const tilt = scatter * 0.04 * normal(random);
  const points: SizePoint[] = [];
  let reached = 0;
  for (const size of method === 'laser' ? LASER_SIZES : SIEVES) {
    const q = undersizeAt(curve, size);
    const error =
      method === 'laser' ? shift + tilt * Math.max(-1, Math.min(1, (q - 0.5) / 0.4)) : 0.03 * normal(random);
    const own = method === 'laser' ? 0.002 : 0.003;
    const noisy = undersizeAt(curve, size * Math.exp(error)) + own * normal(random);
    reached = Math.min(1, Math.max(reached, noisy));
    points.push({ size, undersize: reached });
  }
  const sizes: MeasuredSample = {
    name,
    kind: 'curve',
    method,
    basis: 'volume',
    understood: '',
    remarks: [],
    stated: [],
    points,
  };
  const { rotorPower, idlePower } = point.state.conditions;
  return {
    name,
    scenario,
    sizes,
    power: { value: rotorPower * (1 + 0.03 * normal(random)), error: 0.03 },
    idlePower,
  };
}

/**
 * A campaign of the first n runs.
 *
 * @param scatter the analyser's scatter over the limits of ISO 13320; as analysers usually repeat unless given
 */
export function campaign(
  scenario: Scenario,
  truth: Truth,
  count: number,
  method: 'laser' | 'sieve',
  random: Random,
  scatter = TYPICAL_SCATTER,
): Trial[] {
  return RUNS.slice(0, count).map((settings, i) =>
    measuredRun(`run ${i + 1}`, scenarioAt(scenario, settings), truth, method, random, scatter),
  );
}
