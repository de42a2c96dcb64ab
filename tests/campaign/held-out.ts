import type { SizeCurve } from '../../src/model/psd/curve.ts';
import { sizeAt, undersizeAt } from '../../src/model/psd/curve.ts';
import { EFFICIENCY_LAWS } from '../../src/model/wheel/efficiency/index.ts';
import type { SizePoint } from '../../src/scenario/measurement/measured-sample.ts';
import { type SitedCase, toCase } from '../../src/scenario/operating-point.ts';
import { curveOf, type Point, solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { scaledFeed } from '../../src/trials/posterior-samples.ts';
import { normal, type Random } from '../../src/trials/random.ts';
import type { Trial } from '../../src/trials/trial.ts';
import { plainProblem, plainSteady } from '../reference/plain.ts';
import { type Settings, scenarioAt } from './campaign.ts';

/** What of a truth differs in kind from the model that is fitted. */
export const WRONG = ['nothing', 'efficiency law', 'fragment law', 'crowding', 'lots'] as const;
export type Wrong = (typeof WRONG)[number];

/** Hidden numbers of one truth: factors on what the scenario says, and shares set. */
export interface Hidden {
  readonly [name: string]: number;
}

/** Standard deviations of the logarithm of each hidden number (the beliefs of eq. K1, and a few the fit holds). */
const LOGARITHMIC = {
  friability: 1,
  threshold: 1,
  exponent: 0.3,
  finesScale: 0.4,
  cutFactor: 0.25,
  sharpness: 0.2,
  powerFactor: 0.3,
  crowdingLoad: 0.4,
  sharpnessLoading: 0.5,
  bypassLoading: 0.5,
  leakage: 0.3,
  restitution: 0.2,
  idleNumber: 0.1,
} as const;

/** Draws a hidden truth. */
export function hiddenNumbers(random: Random): Hidden {
  const of = Object.fromEntries(
    Object.entries(LOGARITHMIC).map(([name, deviation]) => [name, deviation * normal(random)]),
  );
  return {
    ...of,
    bypass: 0.5 * normal(random),
    velocityRatio: normal(random),
    leanFactor: normal(random),
    returnRatio: 0.5 * normal(random),
  };
}

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));
const logit = (p: number): number => Math.log(p / (1 - p));

/** The case of a scenario with its coefficients moved by the hidden numbers. */
export function hiddenCase(scenario: Scenario, hidden: Hidden, wrong: Wrong, lot = 1): SitedCase {
  const c = toCase(scenario);
  const times = (value: number | undefined, name: string): number => (value ?? 1) * Math.exp(hidden[name]!);
  const { rotor, wheel } = c;
  return {
    ...c,
    components: c.components.map((one) => ({
      ...one,
      feed: lot === 1 ? one.feed : scaledFeed(one.feed, lot),
      material: {
        ...one.material,
        selection: {
          ...one.material.selection,
          friability: times(one.material.selection.friability as number, 'friability'),
          threshold: times(one.material.selection.threshold as number, 'threshold'),
        },
        fragments:
          wrong === 'fragment law'
            ? {
                law: 'two-power',
                fineShare: 0.5,
                fineExponent: 0.8 * Math.exp(hidden.exponent!),
                coarseExponent: 4,
              }
            : {
                ...one.material.fragments,
                exponent: times(one.material.fragments.exponent as number, 'exponent'),
                finesScale: times(one.material.fragments.finesScale as number, 'finesScale'),
              },
      },
    })),
    rotor: {
      ...rotor,
      coefficients: {
        ...rotor.coefficients,
        powerFactor: times(rotor.coefficients.powerFactor, 'powerFactor'),
        crowdingLoad: times(rotor.coefficients.crowdingLoad, 'crowdingLoad'),
        restitution: times(rotor.coefficients.restitution, 'restitution'),
        idleNumber: times(rotor.coefficients.idleNumber, 'idleNumber'),
        velocityRatio: 0.5 + 0.5 * logistic(logit(0.7) + hidden.velocityRatio!),
        ...('returnRatio' in rotor.coefficients
          ? { returnRatio: times(rotor.coefficients.returnRatio as number, 'returnRatio') }
          : {}),
      },
    },
    wheel: {
      ...wheel,
      coefficients: {
        ...wheel.coefficients,
        cutFactor: times(wheel.coefficients.cutFactor, 'cutFactor'),
        sharpness: Math.min(0.9, times(wheel.coefficients.sharpness, 'sharpness')),
        sharpnessLoading: times(wheel.coefficients.sharpnessLoading, 'sharpnessLoading'),
        bypassLoading: times(wheel.coefficients.bypassLoading, 'bypassLoading'),
        leakage: times(wheel.coefficients.leakage, 'leakage'),
        bypass: logistic(logit(wheel.coefficients.bypass) + hidden.bypass!),
        leanFactor: logistic(hidden.leanFactor!),
      },
      ...(wrong === 'efficiency law' ? { efficiency: otherEfficiency() } : {}),
    },
  };
}

function otherEfficiency(): SitedCase['wheel']['efficiency'] {
  if (!('logistic' in EFFICIENCY_LAWS)) throw new Error('no logistic law');
  return { law: 'logistic' };
}

/** What the truth makes at some settings: product and powers; undefined where it chokes. */
export interface Made {
  readonly curve: SizeCurve;
  readonly rotorPower: number;
  readonly idlePower: number;
}

/** The truth at settings, by the second plain coding of the equations. */
export function madeBy(c: SitedCase, wrong: Wrong): Made | undefined {
  const problem = plainProblem(c);
  const crowding = (loading: number, halving: number): number => 1 / (1 + (loading / halving) ** 2);
  const state = plainSteady(c, wrong === 'crowding' ? { ...problem, crowding } : problem);
  if (!state) return undefined;
  const { grid } = problem;
  const whole = Float64Array.from(grid.sizes, (_, i) => state.product.reduce((sum, p) => sum + p[i]!, 0));
  return {
    curve: curveOf(grid, whole),
    rotorPower: state.idlePower + state.grindingPower,
    idlePower: state.idlePower,
  };
}

/** A truth with what it makes at the settings tried and at those held out. */
export interface HeldOut {
  readonly hidden: Hidden;
  readonly wrong: Wrong;
  readonly tried: readonly Made[];
  readonly blind: readonly Made[];
}

/** Draws truths until the mill runs at every setting. */
export function heldOutTruth(
  scenario: Scenario,
  wrong: Wrong,
  tried: readonly Settings[],
  blind: readonly Settings[],
  random: Random,
): HeldOut {
  for (let tries = 0; tries < 3000; tries++) {
    const hidden = hiddenNumbers(random);
    const lots = [...tried, ...blind].map(() => (wrong === 'lots' ? Math.exp(LOT * normal(random)) : 1));
    const cases = [...tried, ...blind].map((settings, i) =>
      hiddenCase(scenarioAt(scenario, settings), hidden, wrong, lots[i]),
    );
    // a quick look by the program's own solve, so that the plain coding is not spent on mills that choke
    if (!cases.every((c) => sensible(solvePoint(c, { choke: false })))) continue;
    const made = cases.map((c) => madeBy(c, wrong));
    if (made.every((one) => one !== undefined)) {
      const all = made as Made[];
      return { hidden, wrong, tried: all.slice(0, tried.length), blind: all.slice(tried.length) };
    }
  }
  throw new Error('no truth found that the mill can run');
}

/** From lot to lot the feed's size varies by so much where lots change. */
const LOT = 0.15;

function sensible(point: Point): boolean {
  return point.status === 'steady' && sizeAt(point.curve, 0.5) > 2e-6;
}

/** How the instruments err: shares of the limits of ISO 13320, and of the meters. */
export interface Noise {
  readonly laser: number;
  readonly power: number;
  readonly feeder: number;
  readonly speed: number;
}
export const NOISE: Noise = { laser: 0.6, power: 0.03, feeder: 0.02, speed: 0.005 };

const LASER_SIZES = Array.from({ length: 70 }, (_, i) => 0.3e-6 * 10 ** (i / 18));

/** A run as it is logged: the truth's product by a laser, its power by meters. */
export function readRun(name: string, scenario: Scenario, made: Made, noise: Noise, random: Random): Trial {
  const shift = noise.laser * 0.03 * normal(random);
  const tilt = noise.laser * 0.04 * normal(random);
  const fine = noise.laser * Math.sqrt(3) * 0.03 * normal(random);
  const points: SizePoint[] = [];
  let reached = 0;
  for (const size of LASER_SIZES) {
    const q = undersizeAt(made.curve, size);
    const error =
      shift + tilt * Math.max(-1, Math.min(1, (q - 0.5) / 0.4)) + fine / (1 + (size / 10e-6) ** 4);
    const noisy = undersizeAt(made.curve, size * Math.exp(error)) + 0.002 * normal(random);
    reached = Math.min(1, Math.max(reached, noisy));
    points.push({ size, undersize: reached });
  }
  const grinding = made.rotorPower - made.idlePower;
  const told = grinding * (1 + Math.hypot(noise.feeder, 2 * noise.speed) * normal(random));
  return {
    name,
    scenario,
    sizes: {
      name,
      kind: 'curve',
      method: 'laser',
      basis: 'volume',
      understood: '',
      remarks: [],
      stated: [],
      points,
    },
    power: { value: (made.idlePower + told) * (1 + noise.power * normal(random)), error: 0.03 },
    idlePower: made.idlePower * (1 + (noise.power / 3) * normal(random)),
  };
}
