import type { Solved } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { posteriorOf } from '../../trials/calibration/take-up.ts';
import { pointInWorld, worldsOf } from '../../trials/chance.ts';
import { quantile } from '../../trials/fit/quantile.ts';

/** Worlds of the coefficients at each point: enough for the quarters. */
const WORLDS = 32;

/** Middle half of a number over the worlds; NaN where half of them have none. */
export interface MiddleHalf {
  readonly low: number;
  readonly high: number;
}

/** How the middle half of some numbers over the worlds of a scenario's coefficients is found, one operating point at a time. */
export function middleHalves(
  scenario: Scenario,
  numbers: readonly ((point: Solved) => number)[],
): (at: Scenario) => MiddleHalf[] {
  const posterior = posteriorOf(scenario);
  const worlds = worldsOf(posterior, WORLDS);
  return (at) => {
    const points = worlds
      .map((world) => pointInWorld(at, posterior, world))
      .filter((point) => point.status === 'steady');
    return numbers.map((number) => {
      const values = points
        .map(number)
        .filter(Number.isFinite)
        .sort((a, b) => a - b);
      if (values.length * 2 < worlds.length) return { low: Number.NaN, high: Number.NaN };
      return { low: quantile(values, 0.25), high: quantile(values, 0.75) };
    });
  };
}
