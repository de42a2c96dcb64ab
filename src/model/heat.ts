/** Terms of the heat balance that depend on the outlet temperature T: power = fixed + hits·T_in/T + swirl·T/T_in [W]. */
export interface HeatSources {
  /** Power that does not depend on T, less what evaporation takes [W]. */
  readonly fixed: number;
  /** Power of the hits at inlet temperature [W]: hits per pass fall as the air expands. */
  readonly hits: number;
  /** Wheel power by lean at inlet temperature [W]: inflow rises as the air expands. */
  readonly lean: number;
}

/**
 * Outlet temperature, T = T_in + ΣP/(m_air c_air + Σ F c_p + U) (eq. 25), with the powers' own dependence on T through
 * the gap speed and the inflow. With k ∝ 1/T and v_r ∝ T the balance is a quadratic, solved exactly:
 *
 * (C − L/T_in) T² − (C T_in + P_fixed) T − P_hits T_in = 0
 *
 * @param sources powers as above [W]
 * @param capacity C = m_air c_air + Σ F c_p + casing loss U [W/K]
 * @param inlet T_in [K]
 * @returns T [K]; NaN where the lean power alone outruns the heat capacity (no balance)
 */
export function outletTemperature(sources: HeatSources, capacity: number, inlet: number): number {
  const quadratic = capacity - sources.lean / inlet;
  const linear = capacity * inlet + sources.fixed;
  if (!(quadratic > 0)) return Number.NaN;
  return (linear + Math.sqrt(linear * linear + 4 * quadratic * sources.hits * inlet)) / (2 * quadratic);
}
