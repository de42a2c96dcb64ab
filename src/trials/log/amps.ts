/** Nameplate of the motor whose amps were read. */
export interface MotorCurrents {
  /** Uncoupled no-load current I_0 [A]. */
  readonly noLoad: number;
  /** Rated current I_n [A]. */
  readonly rated: number;
}

/** Relative error of a power from amps at rated load (`assumed`, eq. 24a). */
const AMPS_ERROR = 0.1;

/**
 * Share of the rated torque from motor current, sqrt((I² − I_0²)/(I_n² − I_0²)) (eq. 24a, `assumed`), and its relative error:
 * 10 % at rated load, growing as I²/(I² − I_0²) towards no load, where the current says nothing of the load.
 *
 * @param current I [A]
 * @returns NaN where the current is below no load
 * @example torqueFraction(28, { noLoad: 10, rated: 28 }).fraction // 1
 */
export function torqueFraction(
  current: number,
  { noLoad, rated }: MotorCurrents,
): { fraction: number; error: number } {
  const load = current ** 2 - noLoad ** 2;
  const full = rated ** 2 - noLoad ** 2;
  const lever = (of: number): number => of ** 2 / (of ** 2 - noLoad ** 2);
  return {
    fraction: Math.sqrt(load / full),
    error: load > 0 ? Math.min(1, (AMPS_ERROR * lever(current)) / lever(rated)) : Number.NaN,
  };
}
