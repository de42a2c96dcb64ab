import { valueAt } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Coefficient } from './coefficient.ts';
import { parameterAt } from './parameter-at.ts';

/**
 * The coefficient at a path of the scenario, with the belief of its record; none where there is no number or no belief, or a
 * number at the end of a scale that the belief does not reach past: a typed 0 is exact.
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
  if (typeof typed !== 'number' || !parameter?.belief) return [];
  const { spread, scale, edge = 0 } = parameter.belief;
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
      spread,
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
