import type { Wheel } from '../case.ts';

/**
 * Free area of the wheel's rim, A = H (π D_w − z t/cos β) (eq. 16), or H π D_w · openArea where that share is given.
 *
 * @param geometry wheel geometry [m, rad]
 * @returns A [m²]; not positive where the vanes close the rim
 */
export function freeArea(geometry: Wheel['geometry']): number {
  const rim = Math.PI * geometry.diameter;
  if (geometry.openArea !== undefined) return geometry.height * rim * geometry.openArea;
  return geometry.height * (rim - (geometry.vanes * geometry.thickness) / Math.cos(geometry.lean));
}

/**
 * Swirl factor at the rim, χ_φ = 1 − √(cos β)/z^0.7 unless given (eq. 17; slip form `recalled`: Wiesner 1967, for
 * outflow impellers; its use for inflow `assumed`).
 */
export function swirlFactor(wheel: Wheel): number {
  const given = wheel.coefficients.swirlFactor;
  if (given !== undefined) return given;
  return 1 - Math.sqrt(Math.cos(wheel.geometry.lean)) / wheel.geometry.vanes ** 0.7;
}

/** Inflow and swirl at the rim. */
export interface RimFlow {
  /** ωR [m/s]. */
  readonly rimSpeed: number;
  /** v_r [m/s]. */
  readonly radialVelocity: number;
  /** v_φ [m/s]. */
  readonly swirlVelocity: number;
}

/**
 * Velocities at the rim: v_r = χ_r Q/A (eq. 16), v_φ = χ_φ ω R + χ_β v_r tan β (eq. 17).
 *
 * @param wheel geometry and coefficients
 * @param speed wheel frequency [1/s]
 * @param flow air volume flow at the wheel [m³/s]
 */
export function rimFlow(wheel: Wheel, speed: number, flow: number): RimFlow {
  const rimSpeed = Math.PI * wheel.geometry.diameter * speed;
  const radialVelocity = (wheel.coefficients.radialFactor * flow) / freeArea(wheel.geometry);
  const swirlVelocity =
    swirlFactor(wheel) * rimSpeed +
    wheel.coefficients.leanFactor * radialVelocity * Math.tan(wheel.geometry.lean);
  return { rimSpeed, radialVelocity, swirlVelocity };
}
