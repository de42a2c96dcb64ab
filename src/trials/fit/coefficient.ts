import { valueAt } from '../../scenario/operating-point.ts';
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

/** Prior standard deviations of the logarithms (eq. K1, `assumed`). */
export const SPREAD = {
  friability: 1,
  threshold: 1,
  fragments: 0.3,
  cut: 0.25,
  sharpness: 0.2,
  power: 0.3,
} as const;
/** How far a coefficient may move from its prior median, in prior standard deviations. */
export const REACH = 4;

/** A coefficient at a path of the scenario, or none where the path holds no positive number. */
export function coefficient(
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
