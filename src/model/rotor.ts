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
 * Cross-section through which air and powder rise past the elements, from the feet of the elements to the liner:
 * A_z = π (D + s − w)(s + w) (eq. 4, `derived`: a ring from radius D/2 − w to D/2 + s).
 *
 * @param geometry rotor geometry [m]; w below D
 * @returns [m²]
 */
export function annulusArea({ diameter, gap, width }: Rotor['geometry']): number {
  return Math.PI * (diameter + gap - width) * (gap + width);
}

/**
 * Speed at which air and powder rise past the elements, v_z = Q/A_z (eq. 4).
 *
 * @param flow air volume flow [m³/s]
 * @param geometry rotor geometry [m]
 * @returns [m/s]
 */
export function riseSpeed(flow: number, geometry: Rotor['geometry']): number {
  return flow / annulusArea(geometry);
}

/**
 * Mean time from one hit to the next without crowding, 1/(count · N) + 2s/(ψ v_tip) (eq. 4, `derived` from this picture):
 * a particle flies to the liner and back, at the share ψ of the tip speed, and waits for the next element.
 *
 * @param rotor geometry and coefficients; ψ is `returnRatio`, `assumed`
 * @param speed N [1/s]
 * @returns [s]; infinite at rest
 */
export function timeBetweenHits({ geometry, coefficients }: Rotor, speed: number): number {
  const flight = (2 * geometry.gap) / (coefficients.returnRatio * tipSpeed(geometry.diameter, speed));
  return 1 / (geometry.count * speed) + flight;
}

/**
 * Mean hits per pass without crowding, k_0 = χ_h χ_l (h/v_z)/(1/(count · N) + 2s/(ψ v_tip)) (eq. 4, `derived`; ψ, χ_h and
 * the liner's factor χ_l `assumed`): time between the elements over time between hits. A closer gap hits more often; more
 * elements hit more often with diminishing returns, never beyond (h/v_z) ψ v_tip/2s.
 *
 * @param rotor geometry and coefficients
 * @param speed N [1/s]
 * @param rise v_z [m/s]
 * @returns k_0 [-]
 * @example freeHitsPerPass(PILOT.rotor, 95.5, 15.2) // 0.838
 */
export function freeHitsPerPass(rotor: Rotor, speed: number, rise: number): number {
  const { hitFactor, linerFactor } = rotor.coefficients;
  return (hitFactor * linerFactor * rotor.geometry.height) / (rise * timeBetweenHits(rotor, speed));
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
