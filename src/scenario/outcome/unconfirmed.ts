import { isInUse } from '../path.ts';
import type { Scenario } from '../scenario.ts';

/** Coefficients: what is neither geometry, setting nor the feed itself. */
const COEFFICIENT = /\.(coefficients|selection|fragments)\.|\.(loopTime|chokeLoad|sphericity|density)$/;
/** Labels that a source or a measurement stands behind; a value merely typed into the file is not confirmed by that. */
const CONFIRMED: ReadonlySet<string> = new Set(['published', 'measured', 'fitted']);

/** Paths of the coefficients in use at the chosen wheel. */
export function coefficientsInUse({ provenance, settings }: Scenario): string[] {
  return Object.keys(provenance).filter((path) => COEFFICIENT.test(path) && isInUse(path, settings.wheel));
}

/**
 * Coefficients in use that no source and no measurement confirms: presets, catalogue values and values typed over them,
 * until their label says published, measured or fitted. The same point has the same ones however it is written.
 */
export function unconfirmedCoefficients(scenario: Scenario): string[] {
  return coefficientsInUse(scenario).filter((path) => !CONFIRMED.has(scenario.provenance[path]!.label));
}
