import { valueAt, withValue } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { matchWheel, type Target } from './match.ts';

/** Factors of a wheel's cut that no drawing gives (`physics`: they stand at 1 until a trial fits them). */
const FACTORS = ['radialFactor', 'leanFactor', 'cutFactor', 'swirlFactor'] as const;
/** How far each is taken to be off (`assumed`, the spread used where nothing is fitted). */
export const OFF = 0.2;

/** Shaft speeds [1/s] between which the speed asked of a wheel lies. */
export interface SpeedBand {
  readonly low: number;
  readonly high: number;
}

/**
 * Speed a wheel needs for the target when each factor of its cut may be 20 % off, independently: root of the sum of
 * squares. An end beyond the highest speed is that speed.
 */
export function speedBand(scenario: Scenario, wheel: string, target: Target, speed: number): SpeedBand {
  const top = scenario.machine.wheels[wheel]!.maxSpeed;
  let [below, above] = [0, 0];
  for (const name of FACTORS) {
    const path = `machine.wheels.${wheel}.coefficients.${name}`;
    const value = valueAt(scenario, path);
    if (typeof value !== 'number') continue;
    const speeds = [1 - OFF, 1 + OFF].map((factor) => {
      const matched = matchWheel(withValue(scenario, path, value * factor), wheel, target);
      return matched.reached ? matched.speed : matched.because === 'top speed' ? top : speed;
    });
    below += Math.max(0, speed - Math.min(...speeds)) ** 2;
    above += Math.max(0, Math.max(...speeds) - speed) ** 2;
  }
  return { low: Math.max(0, speed - Math.sqrt(below)), high: Math.min(top, speed + Math.sqrt(above)) };
}

/** Whether two bands share a speed: then the order of the two wheels is not resolved. */
export function overlap(a: SpeedBand, b: SpeedBand): boolean {
  return a.low <= b.high && b.low <= a.high;
}
