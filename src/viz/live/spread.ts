import { valueAt, withValue } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { sobolCoordinate, sobolDirections } from '../../sweep/sequence/sobol.ts';
import { normalScore } from './normal.ts';

/** A coefficient nobody measured, with the standard deviation of its logarithm. */
export interface Uncertain {
  readonly path: string;
  readonly spread: number;
}

/** Standard deviations of logarithms before any trial (physics section 12, `assumed`), by the end of the path. */
const SPREADS: Readonly<Record<string, number>> = {
  'selection.friability': 1,
  'selection.threshold': 1,
  'fragments.exponent': 0.3,
  'coefficients.cutFactor': 0.25,
  'coefficients.sharpness': 0.2,
  'coefficients.powerFactor': 0.3,
};

/** What is uncertain at a scenario's operating point: breakage, cut and sharpness of the wheel in use, ranges in the file. */
export function uncertainCoefficients(scenario: Scenario): Uncertain[] {
  const wheel = `machine.wheels.${scenario.settings.wheel}.`;
  const inUse = Object.keys(scenario.provenance).filter(
    (path) => !path.startsWith('machine.wheels.') || path.startsWith(wheel),
  );
  return inUse.flatMap((path): Uncertain[] => {
    if (typeof valueAt(scenario, path) !== 'number' || !((valueAt(scenario, path) as number) > 0)) return [];
    const range = scenario.uncertain[path];
    // a range holds about 95 % of what is believed
    if (range && range[0] > 0) return [{ path, spread: Math.log(range[1] / range[0]) / 4 }];
    const { label } = scenario.provenance[path]!;
    if (label === 'fitted' || label === 'published') return [];
    const spread = SPREADS[path.split('.').slice(-2).join('.')];
    return spread === undefined ? [] : [{ path, spread }];
  });
}

/** Sharpness stays a sharpness. */
const HIGHEST_SHARPNESS = 0.95;

/** A scenario with one coefficient moved by some standard deviations. */
export function moved(scenario: Scenario, { path, spread }: Uncertain, deviations: number): Scenario {
  const value = (valueAt(scenario, path) as number) * Math.exp(spread * deviations);
  return withValue(scenario, path, path.endsWith('.sharpness') ? Math.min(HIGHEST_SHARPNESS, value) : value);
}

/**
 * Scenarios with all uncertain coefficients drawn at once, log-normal and independent; a quasi-random sequence, so that
 * few draws cover them and the same come every time.
 */
export function drawnScenarios(scenario: Scenario, count: number): Scenario[] {
  const uncertain = uncertainCoefficients(scenario);
  if (uncertain.length === 0) return [];
  const directions = sobolDirections(uncertain.length);
  return Array.from({ length: count }, (_, i) =>
    uncertain.reduce(
      (drawn, each, j) => moved(drawn, each, normalScore(sobolCoordinate(directions, i, j, 1))),
      scenario,
    ),
  );
}
