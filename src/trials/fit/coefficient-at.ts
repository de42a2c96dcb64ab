import { valueAt } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Belief } from './beliefs.ts';
import type { Coefficient } from './coefficient.ts';
import { parameterAt } from './parameter-at.ts';

/** Limits closer than those of the scenario's schema: beyond them a law's shape runs out. */
const CLOSER: Readonly<Record<string, readonly [number, number]>> = {
  sharpness: [0.1, 0.95],
  exponent: [0.05, 6],
  fineExponent: [0.05, 6],
};

/**
 * The coefficient at a path of the scenario, with a belief about it; none where there is no number, or one at the end of a
 * scale that the belief does not reach past: a typed 0 is exact.
 *
 * @param named what of it is called otherwise than its record says
 * @param fallback value where the scenario has none
 */
export function coefficientAt(
  scenario: Scenario,
  path: string,
  { spread, scale, edge = 0 }: Belief,
  named: Partial<Coefficient> = {},
  fallback?: number,
): Coefficient[] {
  const typed = valueAt(scenario, path) ?? fallback;
  if (typeof typed !== 'number') return [];
  const parameter = parameterAt(scenario, path);
  const name = path.slice(path.lastIndexOf('.') + 1);
  const [lower, upper] = limitsOf(scenario, path);
  const logit = scale.kind === 'logit';
  const low = logit ? Math.max(lower, scale.low) : lower;
  const high = logit ? Math.min(upper, scale.high) : upper;
  const near = edge * (high - low);
  const prior = near > 0 ? Math.min(high - near, Math.max(low + near, typed)) : typed;
  const off = scale.kind === 'log' ? prior + scale.offset <= 0 : prior <= low;
  if (off || (logit && prior >= high)) return [];
  const symbol = parameter?.symbol ?? name;
  return [
    { path, symbol, unit: parameter?.unit ?? '1', prior, scale, spread, lower: low, upper: high, ...named },
  ];
}

/** What the number at a path can be at all, SI. */
export function limitsOf(scenario: Scenario, path: string): readonly [low: number, high: number] {
  const parameter = parameterAt(scenario, path);
  const [least, most] = CLOSER[path.slice(path.lastIndexOf('.') + 1)] ?? [
    Number.NEGATIVE_INFINITY,
    Number.POSITIVE_INFINITY,
  ];
  return [
    Math.max(least, parameter?.exclusiveMinimum ?? parameter?.minimum ?? Number.NEGATIVE_INFINITY),
    Math.min(most, parameter?.exclusiveMaximum ?? parameter?.maximum ?? Number.POSITIVE_INFINITY),
  ];
}
