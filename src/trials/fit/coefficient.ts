import type { Scale } from '../../model/parameters.ts';
import { withValue } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** Normal in the logarithm. */
export const LOG: Scale = { kind: 'log', offset: 0 };

/** One coefficient a fit may move, on its own scale, with what was believed of it before any trial. */
export interface Coefficient {
  /** Path in the scenario file. */
  readonly path: string;
  /** Other paths that move with it, each by its own distance along the scale: what all wheels share. */
  readonly also?: readonly { readonly path: string; readonly shift: number }[];
  readonly symbol: string;
  readonly unit: string;
  /** Wheel it belongs to; undefined for material, rotor and what all wheels share. */
  readonly wheel?: string;
  /** Prior median, SI. */
  readonly prior: number;
  readonly scale: Scale;
  /** Prior standard deviation along the scale; of the logarithm on a log scale. */
  readonly spread: number;
  /** What the number can be at all, SI; never the ends of a belief. */
  readonly lower: number;
  readonly upper: number;
}

/** Farthest a coefficient moves from its prior median, in prior standard deviations: beyond, searches lose their way. */
const REACH = 6;

/** Value along the scale of a coefficient. */
export function coordinateOf({ scale }: Pick<Coefficient, 'scale'>, value: number): number {
  switch (scale.kind) {
    case 'log':
      return Math.log(value + scale.offset);
    case 'logit':
      return Math.log((value - scale.low) / (scale.high - value));
    case 'linear':
      return value / scale.unit;
  }
}

/** The number itself, SI, at a place along the scale. */
export function numberAt({ scale }: Pick<Coefficient, 'scale'>, coordinate: number): number {
  switch (scale.kind) {
    case 'log':
      return Math.exp(coordinate) - scale.offset;
    case 'logit':
      return scale.low + (scale.high - scale.low) / (1 + Math.exp(-coordinate));
    case 'linear':
      return coordinate * scale.unit;
  }
}

/** Ends of what a coefficient may be, along its scale. */
export function boundsOf(coefficient: Coefficient): readonly [low: number, high: number] {
  const { lower, upper, prior, spread } = coefficient;
  const middle = coordinateOf(coefficient, prior);
  const end = (limit: number, side: number): number => {
    const at = coordinateOf(coefficient, limit);
    return Number.isNaN(at) ? side * Number.POSITIVE_INFINITY : at;
  };
  return [
    Math.max(end(lower, -1), middle - REACH * spread),
    Math.min(end(upper, 1), middle + REACH * spread),
  ];
}

/**
 * A scenario with coefficients set.
 *
 * @param coordinates places along the scales, one a coefficient
 */
export function withCoefficients(
  scenario: Scenario,
  coefficients: readonly Coefficient[],
  coordinates: readonly number[],
): Scenario {
  let result = scenario;
  for (let i = 0; i < coefficients.length; i++) {
    for (const [path, value] of numbersAt(coefficients[i]!, coordinates[i]!))
      result = withValue(result, path, value);
  }
  return result;
}

/** Every path a coefficient sets, with the number it sets there. */
export function numbersAt(coefficient: Coefficient, coordinate: number): [path: string, value: number][] {
  return [
    [coefficient.path, numberAt(coefficient, coordinate)],
    ...(coefficient.also ?? []).map(({ path, shift }): [string, number] => [
      path,
      numberAt(coefficient, coordinate + shift),
    ]),
  ];
}
