import { Matrix } from 'ml-matrix';
import type { Scenario } from '../../scenario/scenario.ts';
import { ROTOR_BELIEFS, SHARED_BELIEFS, WHEEL_BELIEFS } from './beliefs.ts';
import { type Coefficient, coordinateOf } from './coefficient.ts';
import { coefficientAt } from './coefficient-at.ts';
import { materialCoefficients } from './material.ts';
import { rangedCoefficients } from './ranged.ts';

export { type Coefficient, withCoefficients } from './coefficient.ts';

/** Coefficients with the joint prior of their places along their scales. */
export interface Prior {
  readonly coefficients: readonly Coefficient[];
  /** Prior medians along the scales. */
  readonly mean: readonly number[];
  /** Covariance along the scales. */
  readonly covariance: Matrix;
}

/** Part of a wheel's spread that is its own and not shared with the other wheels (15 % of χ_c `assumed`, eq. K1). */
const OWN = { cutFactor: 0.15, sharpness: 0.1 } as const;

/**
 * Everything uncertain (eq. K1), each held by its prior and by nothing else: breakage of the material; cut and sharpness
 * of every wheel; bypass and what load does, shared by the wheels; hits, crowding, power and idle number of the rotor; and
 * every number the file gives as a range or `unknown`. The hit factor is held: it mirrors friability.
 */
export function priorOf(scenario: Scenario): Prior {
  const ranged = rangedCoefficients(scenario);
  const taken = new Set(ranged.map(({ path }) => path));
  const standard = [
    ...materialCoefficients(scenario),
    ...Object.keys(scenario.machine.wheels).flatMap((wheel) => wheelCoefficients(scenario, wheel)),
    ...sharedCoefficients(scenario, taken),
    ...rotorCoefficients(scenario),
  ].filter(({ path }) => !taken.has(path));
  const coefficients = [...standard, ...ranged];
  const covariance = Matrix.zeros(coefficients.length, coefficients.length);
  coefficients.forEach((a, i) => {
    coefficients.forEach((b, j) => {
      covariance.set(i, j, i === j ? a.spread ** 2 : sharedVariance(a, b));
    });
  });
  return { coefficients, mean: coefficients.map((one) => coordinateOf(one, one.prior)), covariance };
}

/** Wheels share what is not their own: a trial on one tells something of the others. */
function sharedVariance(a: Coefficient, b: Coefficient): number {
  if (a.wheel === undefined || b.wheel === undefined || nameOf(a) !== nameOf(b)) return 0;
  const own = OWN[nameOf(a) as keyof typeof OWN] ?? Number.POSITIVE_INFINITY;
  return Math.max(0, Math.min(a.spread, b.spread) ** 2 - own ** 2);
}

const nameOf = ({ path }: Coefficient): string => path.slice(path.lastIndexOf('.') + 1);

function wheelCoefficients(scenario: Scenario, wheel: string): Coefficient[] {
  return Object.entries(WHEEL_BELIEFS).flatMap(([name, belief]) =>
    coefficientAt(scenario, `machine.wheels.${wheel}.coefficients.${name}`, belief, { wheel }),
  );
}

/** One coefficient for all wheels: where their values differ they keep their distance along the scale. */
function sharedCoefficients(scenario: Scenario, taken: ReadonlySet<string>): Coefficient[] {
  return Object.entries(SHARED_BELIEFS).flatMap(([name, belief]) => {
    const [first, ...rest] = Object.keys(scenario.machine.wheels)
      .map((wheel) => `machine.wheels.${wheel}.coefficients.${name}`)
      .filter((path) => !taken.has(path))
      .flatMap((path) => coefficientAt(scenario, path, belief));
    if (!first) return [];
    const middle = coordinateOf(first, first.prior);
    const also = rest.map(({ path, prior }) => ({ path, shift: coordinateOf(first, prior) - middle }));
    return [{ ...first, ...(also.length > 0 ? { also } : {}) }];
  });
}

function rotorCoefficients(scenario: Scenario): Coefficient[] {
  return Object.entries(ROTOR_BELIEFS).flatMap(([name, belief]) =>
    coefficientAt(scenario, `machine.rotor.coefficients.${name}`, belief, {}, FALLBACK[name]),
  );
}

/** A hand-made scenario may lack the power factor, which then is 1. */
const FALLBACK: Readonly<Record<string, number>> = { powerFactor: 1 };
