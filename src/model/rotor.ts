import type { Rotor } from './case.ts';

/**
 * Mean share of the impact energy that acts along the surface's normal: 1 for a flat bar; 2/3 for a round pin, the mean
 * of cos²θ over a cylinder's projected face (eq. 3, `derived`).
 */
export function normalEnergyShare(element: Rotor['geometry']['element']): number {
  return element === 'pin' ? 2 / 3 : 1;
}

/** v_tip = π D N (eq. 1) [m/s]; diameter [m], speed N [1/s]. */
export function tipSpeed(diameter: number, speed: number): number {
  return Math.PI * diameter * speed;
}

/**
 * Gap speed of the air past the elements, v_gap = Q/(π D s) (eq. 4).
 *
 * @param flow air volume flow [m³/s]
 * @param geometry rotor geometry [m]
 * @returns [m/s]
 */
export function gapSpeed(flow: number, geometry: Rotor['geometry']): number {
  return flow / (Math.PI * geometry.diameter * geometry.gap);
}

/**
 * Mean hits per pass without crowding, k_0 = χ_h χ_l · count · N · h/v_gap (eq. 4, `derived`; χ_h and the liner's
 * factor χ_l `assumed` 1).
 *
 * @param rotor geometry and coefficients
 * @param speed N [1/s]
 * @param gap v_gap [m/s]
 * @returns k_0 [-]
 */
export function freeHitsPerPass(rotor: Rotor, speed: number, gap: number): number {
  const { count, height } = rotor.geometry;
  return (rotor.coefficients.hitFactor * rotor.coefficients.linerFactor * count * speed * height) / gap;
}

/**
 * Capture of particles by an element, η_c = (Stk/(Stk + 0.25))², Stk = ρ_p x² v_imp/(18 µ w) (eq. 5; sphere form
 * `recalled`: Langmuir & Blodgett 1946, its use for bars `assumed`; it matters below about 10 µm).
 *
 * @param size x [m]
 * @param density ρ_p [kg/m³]
 * @param impactSpeed v_imp [m/s]
 * @param viscosity µ [Pa s]
 * @param width w [m]
 * @returns η_c in 0…1
 */
export function captureEfficiency(
  size: number,
  density: number,
  impactSpeed: number,
  viscosity: number,
  width: number,
): number {
  const stokes = (density * size * size * impactSpeed) / (18 * viscosity * width);
  return (stokes / (stokes + 0.25)) ** 2;
}

/**
 * Idle power, c_0 ρ_in N³ D⁵ + (1 − η_v) m_air v_tip² (eq. 22; c_0 `assumed` 0.8): drag of the elements, and the swirl
 * the air leaves with.
 *
 * @param rotor geometry and coefficients
 * @param speed N [1/s]
 * @param airDensity ρ_in [kg/m³]
 * @param airMassFlow [kg/s]
 * @returns [W]
 */
export function idlePower(rotor: Rotor, speed: number, airDensity: number, airMassFlow: number): number {
  const { diameter } = rotor.geometry;
  const { idleNumber, velocityRatio } = rotor.coefficients;
  const tip = tipSpeed(diameter, speed);
  return idleNumber * airDensity * speed ** 3 * diameter ** 5 + (1 - velocityRatio) * airMassFlow * tip * tip;
}

/**
 * Motor power available at a speed, P_rated min(1, N/N_base) (eq. 24a).
 *
 * @param motor rated power [W] and base speed [1/s]
 * @param speed N [1/s]
 * @returns [W]
 */
export function availablePower(motor: Rotor['motor'], speed: number): number {
  return motor.power * Math.min(1, speed / motor.baseSpeed);
}
