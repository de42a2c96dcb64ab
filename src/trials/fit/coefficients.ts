import { Matrix } from 'ml-matrix';
import { valueAt, withValue } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** One coefficient a fit may move, in its logarithm, with what was believed of it before any trial. */
export interface Coefficient {
  /** Path in the scenario file. */
  readonly path: string;
  readonly symbol: string;
  readonly unit: string;
  /** Wheel it belongs to; undefined for material and rotor. */
  readonly wheel?: string;
  /** Prior median, SI. */
  readonly prior: number;
  /** Prior standard deviation of its logarithm. */
  readonly spread: number;
  /** Bounds, SI. */
  readonly lower: number;
  readonly upper: number;
}

/** Coefficients with the joint prior of their logarithms. */
export interface Prior {
  readonly coefficients: readonly Coefficient[];
  /** ln of the prior medians. */
  readonly mean: readonly number[];
  /** Covariance of the logarithms. */
  readonly covariance: Matrix;
}

/** Prior standard deviations of the logarithms (physics section 12, `assumed`). */
const SPREAD = {
  friability: 1,
  threshold: 1,
  fragments: 0.3,
  cut: 0.25,
  sharpness: 0.2,
  power: 0.3,
} as const;
/** Part of a wheel's spread that is its own and not shared with the other wheels (15 % of χ_c `assumed`, section 12). */
const OWN = { cut: 0.15, sharpness: 0.1 } as const;
/** How far a coefficient may move from its prior median, in prior standard deviations. */
const REACH = 4;
const SHARPNESS_LIMITS = [0.1, 0.95] as const;
const FRAGMENT_LIMITS = [0.05, 6] as const;

/** Which parameters of each law are fitted; a law not listed keeps its values. */
const SELECTION: Readonly<
  Record<string, readonly (readonly [name: string, symbol: string, unit: string, spread: number])[]>
> = {
  impact: [
    ['friability', 'f', 'kg/(J m)', SPREAD.friability],
    ['threshold', 'c', 'J m/kg', SPREAD.threshold],
  ],
  power: [['rate', 'a', '1', SPREAD.friability]],
  'log-energy': [['energy', 'C', 'J/kg', SPREAD.threshold]],
};
const FRAGMENTS: Readonly<Record<string, readonly (readonly [name: string, symbol: string])[]>> = {
  impact: [['exponent', 'q']],
  power: [['exponent', 'a']],
  'two-power': [['fineExponent', 'γ']],
};

/**
 * What the trials of a scenario can move: breakage of the material, cut and sharpness of every wheel of the machine, the
 * power factor, and every number the file gives as a range or unknown. Velocity ratio and hit factor are held: scaling
 * them changes no curve that the others could not give (section 12).
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

function coefficient(
  scenario: Scenario,
  path: string,
  symbol: string,
  unit: string,
  spread: number,
  limits: readonly [number, number] = [0, Number.POSITIVE_INFINITY],
  wheel?: string,
): Coefficient[] {
  const prior = valueAt(scenario, path);
  if (typeof prior !== 'number' || !(prior > 0)) return [];
  const lower = Math.max(limits[0], prior * Math.exp(-REACH * spread));
  const upper = Math.min(limits[1], prior * Math.exp(REACH * spread));
  return [{ path, symbol, unit, prior, spread, lower, upper, ...(wheel === undefined ? {} : { wheel }) }];
}

/** The first component carries the fit; a flow agent's breakage is not seen in the product. */
function materialCoefficients(scenario: Scenario): Coefficient[] {
  const base = materialPath(scenario);
  const { selection, fragments } = scenario.components[0]!.material;
  return [
    ...(SELECTION[selection.law] ?? []).flatMap(([name, symbol, unit, spread]) =>
      coefficient(scenario, `${base}.selection.${name}`, symbol, unit, spread),
    ),
    ...(FRAGMENTS[fragments.law] ?? []).flatMap(([name, symbol]) =>
      coefficient(scenario, `${base}.fragments.${name}`, symbol, '1', SPREAD.fragments, FRAGMENT_LIMITS),
    ),
  ];
}

function materialPath(scenario: Scenario): string {
  const listed = Object.keys(scenario.provenance).some((path) => path.startsWith('components.'));
  return listed ? 'components.0.material' : 'material';
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
