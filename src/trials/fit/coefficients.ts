import { Matrix } from 'ml-matrix';
import { withValue } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, coefficient, REACH, SPREAD } from './coefficient.ts';
import { materialCoefficients } from './material.ts';

export type { Coefficient } from './coefficient.ts';

/** Coefficients with the joint prior of their logarithms. */
export interface Prior {
  readonly coefficients: readonly Coefficient[];
  /** ln of the prior medians. */
  readonly mean: readonly number[];
  /** Covariance of the logarithms. */
  readonly covariance: Matrix;
}

/** Part of a wheel's spread that is its own and not shared with the other wheels (15 % of χ_c `assumed`, eq. K1). */
const OWN = { cut: 0.15, sharpness: 0.1 } as const;
const SHARPNESS_LIMITS = [0.1, 0.95] as const;

/**
 * What the trials of a scenario can move: breakage of the material, cut and sharpness of every wheel of the machine, the
 * power factor, and every number the file gives as a range or unknown. Velocity ratio and hit factor are held: scaling
 * them changes no curve that the others could not give (eq. K1).
 */
export function priorOf(scenario: Scenario): Prior {
  const ranged = uncertainCoefficients(scenario);
  const standard = [
    ...materialCoefficients(scenario),
    ...Object.keys(scenario.machine.wheels).flatMap((wheel) => wheelCoefficients(scenario, wheel)),
    powerCoefficient(scenario),
  ];
  const coefficients = [
    ...standard.filter(({ path }) => !ranged.some((one) => one.path === path)),
    ...ranged,
  ];
  const covariance = Matrix.zeros(coefficients.length, coefficients.length);
  coefficients.forEach((a, i) => {
    coefficients.forEach((b, j) => {
      covariance.set(i, j, i === j ? a.spread ** 2 : sharedVariance(a, b));
    });
  });
  return { coefficients, mean: coefficients.map(({ prior }) => Math.log(prior)), covariance };
}

/** Wheels share what is not their own: a trial on one tells something of the others. */
function sharedVariance(a: Coefficient, b: Coefficient): number {
  if (a.wheel === undefined || b.wheel === undefined || a.symbol !== b.symbol) return 0;
  const own = a.symbol === 'χ_c' ? OWN.cut : OWN.sharpness;
  return Math.max(0, Math.min(a.spread, b.spread) ** 2 - own ** 2);
}

function wheelCoefficients(scenario: Scenario, wheel: string): Coefficient[] {
  const base = `machine.wheels.${wheel}.coefficients`;
  return [
    ...coefficient(scenario, `${base}.cutFactor`, 'χ_c', '1', SPREAD.cut, undefined, wheel),
    ...coefficient(scenario, `${base}.sharpness`, 'κ_0', '1', SPREAD.sharpness, SHARPNESS_LIMITS, wheel),
  ];
}

/** A hand-made scenario may lack the factor, which then is 1. */
function powerCoefficient(scenario: Scenario): Coefficient {
  const path = 'machine.rotor.coefficients.powerFactor';
  const found = coefficient(scenario, path, 'χ_P', '1', SPREAD.power)[0];
  const { power } = SPREAD;
  return (
    found ?? {
      path,
      symbol: 'χ_P',
      unit: '1',
      prior: 1,
      spread: power,
      lower: Math.exp(-REACH * power),
      upper: Math.exp(REACH * power),
    }
  );
}

/** A range holds about 95 % of what is believed: a quarter of its logarithm is the standard deviation. */
function uncertainCoefficients(scenario: Scenario): Coefficient[] {
  return Object.entries(scenario.uncertain).flatMap(([path, [low, high]]) => {
    if (!(low > 0)) return [];
    const provenance = scenario.provenance[path];
    return [
      {
        path,
        symbol: provenance?.symbol ?? path.replace(/^.*\./, ''),
        unit: provenance?.unit ?? '1',
        prior: Math.sqrt(low * high),
        spread: Math.log(high / low) / 4,
        lower: low,
        upper: high,
      },
    ];
  });
}

/**
 * A scenario with coefficients set.
 *
 * @param logarithms ln of each coefficient, SI
 */
export function withCoefficients(
  scenario: Scenario,
  coefficients: readonly Coefficient[],
  logarithms: readonly number[],
): Scenario {
  let result = scenario;
  for (let i = 0; i < coefficients.length; i++) {
    result = withValue(result, coefficients[i]!.path, Math.exp(logarithms[i]!));
  }
  return result;
}
