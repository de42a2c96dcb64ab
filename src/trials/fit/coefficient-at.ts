import type { Belief } from '../../model/parameters.ts';
import { valueAt } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type Coefficient, LOG } from './coefficient.ts';
import { spreadAlong } from './evidence-spread.ts';
import { parameterAt } from './parameter-at.ts';

/** A number nothing is believed of beside the spread that the file gives. */
const MEASURED: Belief = { spread: 0, scale: LOG };

/**
 * The coefficient at a path of the scenario, with the belief of its record, or with the spread the file gives for its value
 * (`{ value, label, source, spread }`); none where there is no number or no belief, or a number at the end of a scale that
 * the belief does not reach past: a typed 0 is exact.
 *
 * @param named what of it is called otherwise than its record says
 * @param fallback value where the scenario has none
 */
export function coefficientAt(
  scenario: Scenario,
  path: string,
  named: Partial<Coefficient> = {},
  fallback?: number,
): Coefficient[] {
  const typed = valueAt(scenario, path) ?? fallback;
  const parameter = parameterAt(scenario, path);
  const known = scenario.provenance[path]?.spread;
  if (typeof typed !== 'number' || !parameter) return [];
  const belief = parameter.belief ?? (known === undefined ? undefined : MEASURED);
  if (!belief) return [];
  const { scale, edge = 0 } = belief;
  const [lower, upper] = limitsOf(scenario, path);
  const logit = scale.kind === 'logit';
  const low = logit ? Math.max(lower, scale.low) : lower;
  const high = logit ? Math.min(upper, scale.high) : upper;
  const near = edge * (high - low);
  const prior = near > 0 ? Math.min(high - near, Math.max(low + near, typed)) : typed;
  const off = scale.kind === 'log' ? prior + scale.offset <= 0 : prior <= low;
  if (off || (logit && prior >= high)) return [];
  return [
    {
      path,
      symbol: parameter.symbol,
      unit: parameter.unit,
      prior,
      scale,
      spread: known === undefined ? belief.spread : spreadAlong({ scale }, prior, known),
      lower: low,
      upper: high,
      ...named,
    },
  ];
}

/** What the number at a path can be at all, SI. */
export function limitsOf(scenario: Scenario, path: string): readonly [low: number, high: number] {
  const parameter = parameterAt(scenario, path);
  const [least, most] = parameter?.belief?.within ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return [
    Math.max(least, parameter?.exclusiveMinimum ?? parameter?.minimum ?? Number.NEGATIVE_INFINITY),
    Math.min(most, parameter?.exclusiveMaximum ?? parameter?.maximum ?? Number.POSITIVE_INFINITY),
  ];
}
