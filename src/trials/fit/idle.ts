import { inletAir } from '../../model/air.ts';
import { idlePower } from '../../model/rotor.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Trial } from '../trial.ts';

/** Idle number from powers measured without feed. */
export interface IdleNumber {
  readonly value: number;
  /** Standard deviation over runs; NaN for one. */
  readonly deviation: number;
  readonly runs: number;
}

/**
 * c_0 of eq. 22 from idle powers: (P_idle − swirl)/(ρ N³ D⁵), the mean over runs, each run at its own speed and air.
 *
 * @returns undefined where no run has one, or where idle power lies below what the swirl alone takes
 */
export function idleNumberOf(trials: readonly Trial[]): IdleNumber | undefined {
  const values = trials.flatMap(({ scenario, idlePower: measured }) => {
    if (measured === undefined) return [];
    const c = toCase(scenario);
    const { density, massFlow } = inletAir(c.air);
    const at = (idleNumber: number): number =>
      idlePower(
        { ...c.rotor, coefficients: { ...c.rotor.coefficients, idleNumber } },
        c.settings.rotorSpeed,
        density,
        massFlow,
      );
    const swirl = at(0);
    return [(measured - swirl) / (at(1) - swirl)];
  });
  if (values.length === 0) return undefined;
  const value = values.reduce((sum, one) => sum + one, 0) / values.length;
  if (!(value > 0)) return undefined;
  const square = values.reduce((sum, one) => sum + (one - value) ** 2, 0);
  return { value, deviation: Math.sqrt(square / (values.length - 1)), runs: values.length };
}

/** Idle power of eq. 22 at a scenario's settings [W]. */
export function modelIdlePower(scenario: Scenario): number {
  const c = toCase(scenario);
  const { density, massFlow } = inletAir(c.air);
  return idlePower(c.rotor, c.settings.rotorSpeed, density, massFlow);
}
