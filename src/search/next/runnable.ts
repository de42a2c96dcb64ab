import { namesIn } from '../../scenario/expression/expression.ts';
import { toCase } from '../../scenario/operating-point.ts';
import { withinSpeeds } from '../../scenario/outcome/overspeed.ts';
import { isMet, marginOf } from '../../scenario/outcome/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { modelWith } from './candidate-trial.ts';

/** Quantities whose limits hold for a trial as they do for production; a product off its spec teaches, a hot mill harms. */
const GUARDED = new Set([
  'outletTemperature',
  'motorLoad',
  'rotorSpeedUse',
  'wheelSpeedUse',
  'tipSpeed',
  'rimSpeed',
]);
/** Part of the motor's power a planned trial may be expected to use. */
const MOTOR_RESERVE = 0.9;

/** Whether a trial may be asked for: within speeds, motor and the limits of the spec that guard the mill, at the mean. */
export function runnable(scenario: Scenario, posterior: Posterior): boolean {
  const c = toCase(scenario);
  if (!withinSpeeds(c)) return false;
  const point = modelWith(scenario, posterior, posterior.mean);
  if (point.status === 'choked') return false;
  const { rotorPower, availablePower } = point.state.conditions;
  if (rotorPower > MOTOR_RESERVE * availablePower) return false;
  return scenario.spec
    .filter(({ left }) => namesIn(left).some((name) => GUARDED.has(name)))
    .every((requirement) => isMet(requirement, marginOf(requirement, point)));
}
