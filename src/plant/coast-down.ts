import type { Parameter } from '../model/parameters.ts';

/** Rotating masses, SI; what is left out is not known. */
export interface Shafts {
  readonly rotorInertia?: number;
  readonly wheelInertia?: number;
  readonly bearingTorque?: number;
}

/** `plant.shafts`. */
export const SHAFTS: readonly Parameter[] = [
  {
    name: 'rotorInertia',
    symbol: 'J',
    unit: 'kg m^2',
    shownIn: 'kg m^2',
    meaning: 'moment of inertia of rotor, shaft and what is coupled to it',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'wheelInertia',
    symbol: 'J_w',
    unit: 'kg m^2',
    shownIn: 'kg m^2',
    meaning: 'moment of inertia of wheel, shaft and what is coupled to it',
    exclusiveMinimum: 0,
    optional: true,
  },
  {
    name: 'bearingTorque',
    symbol: 'M_b',
    unit: 'J',
    shownIn: 'N m',
    meaning: 'friction torque of bearings and seals; left out, only the air brakes',
    exclusiveMinimum: 0,
    optional: true,
  },
];

export interface Rundown {
  /** Time until the rim is slower than `slow` [s]. */
  readonly toSlow: number;
  /** Time to standstill [s]; NaN where no friction torque is known: air alone never stops a shaft. */
  readonly toRest: number;
}

/**
 * Run-down of a shaft without brake, J dω/dt = −(M_b + a ω²), solved exactly (eq. P25):
 *
 * t = J/√(a M_b) [atan(ω_0 √(a/M_b)) − atan(ω_1 √(a/M_b))];  J/a (1/ω_1 − 1/ω_0) without friction;
 * J (ω_0 − ω_1)/M_b without drag   (`derived`)
 *
 * @param inertia J [kg m²]
 * @param drag a, air torque over ω² [J s²]
 * @param friction M_b [J]; 0 where not known
 * @param from ω_0 [rad/s]
 * @param slow ω_1 at which the rim counts as slow [rad/s]
 */
export function rundown(
  inertia: number,
  drag: number,
  friction: number,
  from: number,
  slow: number,
): Rundown {
  const toSlow = from > slow ? between(inertia, drag, friction, from, slow) : 0;
  return { toSlow, toRest: friction > 0 ? between(inertia, drag, friction, from, 0) : Number.NaN };
}

/**
 * Speed of a shaft that has run down for a time, the inverse of `rundown`'s time (`derived`).
 *
 * @param inertia J [kg m²]
 * @param drag a, air torque over ω² [J s²]
 * @param friction M_b [J]; 0 where not known
 * @param from ω_0 [rad/s]
 * @param time [s]
 * @returns [rad/s], 0 once at rest
 */
export function speedAfter(
  inertia: number,
  drag: number,
  friction: number,
  from: number,
  time: number,
): number {
  if (friction === 0) return from / (1 + (drag * from * time) / inertia);
  if (drag === 0) return Math.max(0, from - (friction * time) / inertia);
  const scale = Math.sqrt(drag / friction);
  const angle = Math.atan(from * scale) - (time * Math.sqrt(drag * friction)) / inertia;
  return angle > 0 ? Math.tan(angle) / scale : 0;
}

function between(inertia: number, drag: number, friction: number, from: number, to: number): number {
  if (friction === 0) return (inertia / drag) * (1 / to - 1 / from);
  if (drag === 0) return (inertia * (from - to)) / friction;
  const scale = Math.sqrt(drag / friction);
  return (inertia / Math.sqrt(drag * friction)) * (Math.atan(from * scale) - Math.atan(to * scale));
}

/**
 * Air torque of the rotor over ω², from its idle power c_0 ρ N³ D⁵: a = c_0 ρ D⁵/(2π)³ (eq. P26, of eq. 22; `derived`).
 *
 * @returns [J s²]
 */
export function rotorDrag(idleNumber: number, airDensity: number, diameter: number): number {
  return (idleNumber * airDensity * diameter ** 5) / (2 * Math.PI) ** 3;
}

/** Moment coefficient of a free disc wetted on both sides, turbulent, 0.146 Re^−1/5 (`recalled`: Schlichting). */
const DISC_MOMENT = 0.146;

/**
 * Air torque of a wheel over ω², taken as a free disc, a = ½ C_M ρ R⁵ with C_M = 0.146 (ωR²ρ/µ)^−1/5 at the speed it
 * starts from (eq. P26): least drag, so the longest run-down.
 *
 * @param angularSpeed ω [rad/s]
 * @param radius R [m]
 * @returns [J s²]
 * @example discDrag(628.3, 0.15, 1.204, 1.813e-5) * 628.3 ** 3 // 105.8 W
 */
export function discDrag(
  angularSpeed: number,
  radius: number,
  airDensity: number,
  viscosity: number,
): number {
  const reynolds = (angularSpeed * radius * radius * airDensity) / viscosity;
  return 0.5 * DISC_MOMENT * reynolds ** -0.2 * airDensity * radius ** 5;
}
