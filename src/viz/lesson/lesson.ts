import { withValues } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Lesson } from './step.ts';

/** What makes the demo mill really fold: less air, slower rotor, and a wheel whose bypass grows fast with load. */
const FOLD = [
  { path: 'wheel', value: 'medium-radial' },
  { path: 'wheelSpeed', as: 'shaft', value: 2400 / 60 },
  { path: 'rotorSpeed', as: 'shaft', value: 5000 / 60 },
  { path: 'feedRate', value: 240 / 3600 },
  { path: 'air.flow', value: 1400 / 3600 },
  { path: 'wheel.coefficients.bypassLoading', value: 0.3 },
  { path: 'machine.chokeLoad', value: 14 },
] as const;

/**
 * The lesson told on a mill.
 *
 * @param scenario the mill and its powder, of one component, running at its settings
 * @param demo the demo mill, of which the step on choking is told whatever the mill
 */
export function lessonOn(scenario: Scenario, demo: Scenario = scenario): Lesson {
  const values = FOLD.map(({ value }) => value);
  return { scenario, fold: withValues(demo, FOLD, values) };
}
