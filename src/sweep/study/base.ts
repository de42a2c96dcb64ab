import { shaftSpeed, valueAt } from '../../scenario/point.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';

/**
 * Coordinate of a factor as the scenario stands: SI value, a speed the way the factor states it, or the place of the
 * scenario's name among the levels.
 *
 * @returns NaN where the path holds no number, or the name is not among the levels
 */
export function baseCoordinate(scenario: Scenario, factor: Factor): number {
  const value = valueAt(scenario, factor.path);
  if (typeof value === 'string') {
    const place = factor.kind === 'levels' ? factor.levels.indexOf(value) : -1;
    return place < 0 ? Number.NaN : place;
  }
  if (value === undefined) return Number.NaN;
  return factor.as === undefined ? value : speedAs(scenario, factor, value);
}

/** A speed of the scenario, stated at the shaft or at the rim as the factor states it. */
function speedAs(scenario: Scenario, factor: Factor, value: number): number {
  const { machine, settings } = scenario;
  const ofWheel = factor.path.endsWith('wheelSpeed');
  const speed = ofWheel ? settings.wheelSpeed : settings.rotorSpeed;
  if (speed.as === factor.as) return value;
  const diameter = ofWheel
    ? machine.wheels[settings.wheel]!.geometry.diameter
    : machine.rotor.geometry.diameter;
  const shaft = shaftSpeed(speed, diameter);
  return factor.as === 'shaft' ? shaft : shaft * Math.PI * diameter;
}
