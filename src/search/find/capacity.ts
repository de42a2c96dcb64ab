import type { Scenario } from '../../scenario/scenario.ts';
import { type Found, type FoundPoint, findSettings } from './find.ts';
import type { SearchSpace } from './space.ts';

const FEED_RATE = { sense: 'maximise', expression: { kind: 'quantity', name: 'feedRate' } } as const;

/**
 * The largest feed rate that still meets the spec, all other settings free.
 *
 * @returns undefined where the feed rate is not among what may vary
 */
export function capacityOf(
  scenario: Scenario,
  space: SearchSpace,
  found: Found,
  seed?: number,
): FoundPoint | undefined {
  const varies = space.numbers.some((j) => space.factors[j]!.path === 'feedRate');
  if (!varies) return undefined;
  const { goal } = scenario;
  if (
    goal?.sense === 'maximise' &&
    goal.expression.kind === 'quantity' &&
    goal.expression.name === 'feedRate'
  )
    return found.best;
  const most = findSettings(scenario, space, { goal: FEED_RATE, ...(seed === undefined ? {} : { seed }) });
  return most.meets ? most.best : undefined;
}
