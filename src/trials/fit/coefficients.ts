import { Matrix } from 'ml-matrix';
import { ROTOR_COEFFICIENTS } from '../../model/parameters/rotor-parameters.ts';
import { WHEEL_COEFFICIENTS } from '../../model/parameters/wheel-parameters.ts';
import type { Parameter } from '../../model/parameters.ts';
import { EFFICIENCY_LAWS } from '../../model/wheel/efficiency/index.ts';
import type { Scenario } from '../../scenario/scenario.ts';
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

/**
 * What every wheel has of its own, with the part of its spread that is not shared with the other wheels (15 % of χ_c
 * `assumed`, eq. K1); of all else that is believed of a wheel there is one coefficient for all of them.
 */
const OWN: Readonly<Record<string, number>> = { cutFactor: 0.15, sharpness: 0.1 };

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
  const coefficients = [...standard, ...ranged, ...measuredBesides(scenario, [...standard, ...ranged])];
  const covariance = Matrix.zeros(coefficients.length, coefficients.length);
  coefficients.forEach((a, i) => {
    coefficients.forEach((b, j) => {
      covariance.set(i, j, i === j ? a.spread ** 2 : sharedVariance(a, b));
    });
  });
  return { coefficients, mean: coefficients.map((one) => coordinateOf(one, one.prior)), covariance };
}

/** Numbers whose spread the file gives although nothing else is believed of them, such as a measured leakage. */
function measuredBesides(scenario: Scenario, others: readonly Coefficient[]): Coefficient[] {
  const taken = new Set(others.flatMap(({ path, also = [] }) => [path, ...also.map((one) => one.path)]));
  return Object.entries(scenario.provenance).flatMap(([path, { spread }]) => {
    if (spread === undefined || taken.has(path)) return [];
    const wheel = /^machine\.wheels\.([^.]+)\./.exec(path)?.[1];
    return coefficientAt(scenario, path, wheel === undefined ? {} : { wheel });
  });
}

/** Wheels share what is not their own: a trial on one tells something of the others. */
function sharedVariance(a: Coefficient, b: Coefficient): number {
  if (a.wheel === undefined || b.wheel === undefined || nameOf(a) !== nameOf(b)) return 0;
  const own = OWN[nameOf(a)] ?? Number.POSITIVE_INFINITY;
  return Math.max(0, Math.min(a.spread, b.spread) ** 2 - own ** 2);
}

const nameOf = ({ path }: Coefficient): string => path.slice(path.lastIndexOf('.') + 1);

/** What a wheel has of its own: cut, sharpness, and whatever its efficiency law brings. */
function wheelCoefficients(scenario: Scenario, wheel: string): Coefficient[] {
  const base = `machine.wheels.${wheel}`;
  const { law } = scenario.machine.wheels[wheel]!.efficiency;
  return [
    ...Object.keys(OWN).map((name) => `${base}.coefficients.${name}`),
    ...believedNames(EFFICIENCY_LAWS[law]?.parameters ?? []).map((name) => `${base}.efficiency.${name}`),
  ].flatMap((path) => coefficientAt(scenario, path, { wheel }));
}

/**
 * One coefficient for all wheels: where their values differ they keep their distance along the scale. A wheel that alone has a
 * spread of its own, as one whose grade efficiency was measured, is left to itself.
 */
function sharedCoefficients(scenario: Scenario, taken: ReadonlySet<string>): Coefficient[] {
  return believedNames(WHEEL_COEFFICIENTS, (name) => OWN[name] === undefined).flatMap((name) => {
    const paths = Object.keys(scenario.machine.wheels)
      .map((wheel) => `machine.wheels.${wheel}.coefficients.${name}`)
      .filter((path) => !taken.has(path));
    const spreads = new Set(paths.map((path) => scenario.provenance[path]?.spread));
    const together =
      spreads.size > 1 ? paths.filter((path) => scenario.provenance[path]?.spread === undefined) : paths;
    const [first, ...rest] = together.flatMap((path) => coefficientAt(scenario, path));
    if (!first) return [];
    const middle = coordinateOf(first, first.prior);
    const also = rest.map(({ path, prior }) => ({ path, shift: coordinateOf(first, prior) - middle }));
    return [{ ...first, ...(also.length > 0 ? { also } : {}) }];
  });
}

function rotorCoefficients(scenario: Scenario): Coefficient[] {
  return believedNames(ROTOR_COEFFICIENTS).flatMap((name) =>
    coefficientAt(scenario, `machine.rotor.coefficients.${name}`, {}, FALLBACK[name]),
  );
}

/** Names of those numbers of a block of which something is believed. */
export function believedNames(
  records: readonly Parameter[],
  kept: (name: string) => boolean = () => true,
): string[] {
  return records.flatMap(({ name, belief }) => (belief && kept(name) ? [name] : []));
}

/** A hand-made scenario may lack the power factor, which then is 1. */
const FALLBACK: Readonly<Record<string, number>> = { powerFactor: 1 };
