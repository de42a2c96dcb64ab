import { valueAt, withValue } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { matchWheel, type Target } from './match.ts';

/** Factors of a wheel's cut that no drawing gives (`physics`: they stand at 1 until a trial fits them). */
const FACTORS = ['radialFactor', 'leanFactor', 'cutFactor', 'swirlFactor'] as const;
/** How far each is taken to be off (`assumed`, the spread used where nothing is fitted). */
export const OFF = 0.2;

/** Between what a value lies, SI: a shaft speed [1/s] for a wheel, a specific energy [J/kg] for a rotor. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

/**
 * Speed a wheel needs for the target when each factor of its cut may be 20 % off, independently: root of the sum of
 * squares. An end beyond the highest speed is that speed.
 */
export function speedBand(scenario: Scenario, wheel: string, target: Target, speed: number): Band {
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  const ends = FACTORS.flatMap((name) => {
    const path = `machine.wheels.${wheel}.coefficients.${name}`;
    const value = valueAt(scenario, path);
    if (typeof value !== 'number') return [];
    const speeds = [1 - OFF, 1 + OFF].map((factor) => {
      const matched = matchWheel(withValue(scenario, path, value * factor), wheel, target);
      return matched.reached ? matched.speed : matched.because === 'top speed' ? top : speed;
    });
    return [speeds];
  });
  const { low, high } = bandOver(speed, ends);
  return { low, high: Math.min(top, high) };
}

/**
 * The band of a positive value about which each of several independent causes moves it to the given ends: root of the
 * sum of squares, above and below apart.
 *
 * @example bandOver(10, [[7, 13], [6, 10]]) // { low: 5, high: 13 }
 */
export function bandOver(value: number, ends: readonly (readonly number[])[]): Band {
  const below = ends.map((each) => Math.max(0, value - Math.min(...each)));
  const above = ends.map((each) => Math.max(0, Math.max(...each) - value));
  return { low: Math.max(0, value - Math.hypot(...below)), high: value + Math.hypot(...above) };
}

/** Whether two bands share a value: then the order of the two is not resolved. */
export function overlap(a: Band, b: Band): boolean {
  return a.low <= b.high && b.low <= a.high;
}
