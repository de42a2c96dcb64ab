import { valueAs } from '../../scenario/operating-point.ts';
import type { Factor, Scenario } from '../../scenario/scenario.ts';

/**
 * Coordinate of a factor as the scenario stands: SI value, a speed the way the factor states it, or the place of the
 * scenario's name among the levels.
 *
 * @returns NaN where the path holds no number, or the name is not among the levels
 */
export function baseCoordinate(scenario: Scenario, factor: Factor): number {
  const value = valueAs(scenario, factor.path, factor.as);
  if (typeof value === 'string') {
    const place = factor.kind === 'levels' ? factor.levels.indexOf(value) : -1;
    return place < 0 ? Number.NaN : place;
  }
  return value ?? Number.NaN;
}
