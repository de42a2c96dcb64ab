import type { Grid } from '../psd/grid.ts';

/** Quantities of rotor, wheel and air that hold at one circulating flow G; SI. */
export interface Conditions {
  /** λ = G/m_air [-]. */
  readonly loading: number;
  /** Air mass flow (dry air and its vapour) [kg/s]. */
  readonly airMassFlow: number;
  /** Outlet temperature [K]. */
  readonly temperature: number;
  /** Air density at the outlet temperature [kg/m³] and its volume flow [m³/s]. */
  readonly airDensity: number;
  readonly airFlow: number;
  readonly viscosity: number;
  readonly tipSpeed: number;
  /** v_imp [m/s] and W [J/kg]. */
  readonly impactSpeed: number;
  readonly hitEnergy: number;
  readonly riseSpeed: number;
  /** k with crowding [-]. */
  readonly hitsPerPass: number;
  readonly idlePower: number;
  readonly grindingPower: number;
  /** Idle + grinding [W]. */
  readonly rotorPower: number;
  readonly availablePower: number;
  readonly wheelPower: number;
  /** ωR [m/s]. */
  readonly rimSpeed: number;
  readonly radialVelocity: number;
  /** v_φ [m/s]. */
  readonly swirlVelocity: number;
  /** κ and τ after loading. */
  readonly sharpness: number;
  readonly bypass: number;
  readonly pressureLoss: number;
  /** Humidity ratio W at the outlet [kg/kg dry air]. */
  readonly humidityRatio: number;
  /** Water that evaporated, and what of it the saturated air left in the product [kg/s]. */
  readonly evaporated: number;
  readonly waterLeft: number;
}

/** One component's flows by class at the steady state [kg/s], and its cut. */
export interface ComponentState {
  /** x_c and its Stokes value [m]. */
  readonly cutSize: number;
  readonly stokesCutSize: number;
  /** F·f, h (arriving at the wheel) and p = D h, each of length grid.classes. */
  readonly feed: Float64Array;
  readonly arriving: Float64Array;
  readonly product: Float64Array;
  /** D: fraction of what arrives that leaves, by class. */
  readonly leaving: Float64Array;
  /** K = k η_c S by class: breakages per pass. */
  readonly breakage: Float64Array;
}

export interface SteadyState {
  readonly status: 'steady';
  readonly grid: Grid;
  /** G [kg/s]. */
  readonly circulating: number;
  readonly conditions: Conditions;
  readonly components: readonly ComponentState[];
  /** Feed rate at which these settings choke [kg/s]; NaN when not asked for. */
  readonly feedAtChoke: number;
}

export type ChokeReason = 'fold' | 'load' | 'grind limit';

export interface ChokedState {
  readonly status: 'choked';
  readonly grid: Grid;
  readonly reason: ChokeReason;
  readonly message: string;
  /** Feed rate at which these settings choke [kg/s]. */
  readonly feedAtChoke: number;
  /** The conditions at the largest load looked at. */
  readonly conditions: Conditions;
}

export type State = SteadyState | ChokedState;
