import type { Case } from '../../model/case.ts';

/** A speed this little above the highest is the rounding of a unit's conversion [-]. */
export const SPEED_ROUNDING = 1 + 1e-9;

/** Whether the rotor turns faster than its maker allows. */
export function rotorTooFast({ settings, rotor }: Pick<Case, 'settings' | 'rotor'>): boolean {
  return settings.rotorSpeed > rotor.maxSpeed * SPEED_ROUNDING;
}

/** Whether the wheel turns faster than its maker allows. */
export function wheelTooFast({ settings, wheel }: Pick<Case, 'settings' | 'wheel'>): boolean {
  return settings.wheelSpeed > wheel.maxSpeed * SPEED_ROUNDING;
}

/** Whether no shaft turns faster than it may: beyond that nothing counts as meeting a spec. */
export function withinSpeeds(c: Case): boolean {
  return !rotorTooFast(c) && !wheelTooFast(c);
}
