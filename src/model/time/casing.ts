import { AIR_HEAT_CAPACITY, inletAir } from '../air.ts';
import type { Case } from '../case.ts';

/** The casing as one body that the air warms and the room cools (eq. 28), SI. */
export interface Casing {
  /** U_i: air and powder to casing [W/K]. */
  readonly exchange: number;
  /** U_a: casing to room [W/K]. */
  readonly loss: number;
  /** C_c [J/K]. */
  readonly heatCapacity: number;
}

/** The pilot's casing (`assumed`, from its area and steel mass) and the rotor diameter it belongs to [m]. */
const PILOT = { diameter: 0.3, exchange: 30, heatCapacity: 200e3 } as const;
/** Where a stated loss reaches the exchange, the exchange is taken this much larger: nothing is lost that did not pass it. */
const EXCHANGE_OVER_LOSS = 2;

/**
 * Casing of a mill: U_i ∝ D², C_c ∝ D³ from the pilot's 30 W/K and 200 kJ/K (`assumed`) unless stated. U_a follows from the
 * steady casing loss U, counted per kelvin of outlet air above inlet air: U_i U_a/(U_i + U_a) = U, so that a mill at rest
 * loses U_a (T_c − T_amb) = U (T − T_in) and a run in time ends on the steady point (`derived`; the room is as warm as
 * the inlet air).
 *
 * @param c operating point
 * @param stated U_i [W/K] and C_c [J/K] where they are known
 */
export function casingOf(
  { rotor, loop }: Case,
  stated: { readonly exchange?: number; readonly heatCapacity?: number } = {},
): Casing {
  const scale = rotor.geometry.diameter / PILOT.diameter;
  const steady = loop.casingLoss;
  const usual = stated.exchange ?? PILOT.exchange * scale ** 2;
  const exchange = usual > steady ? usual : EXCHANGE_OVER_LOSS * steady;
  return {
    exchange,
    loss: (exchange * steady) / (exchange - steady),
    heatCapacity: stated.heatCapacity ?? PILOT.heatCapacity * scale ** 3,
  };
}

/** C_0 = m_air c_air + F Σ c_p [W/K]. */
export function heatCapacityFlow({ air, components, settings }: Case): number {
  const solids = components.reduce((sum, { share, material }) => sum + share * material.heatCapacity, 0);
  return inletAir(air).massFlow * AIR_HEAT_CAPACITY + settings.feedRate * solids;
}

/**
 * Casing temperature after a step in which the outlet air stays at T:
 * C_c dT_c/dt = U_i (T − T_c) − U_a (T_c − T_amb), solved exactly.
 *
 * @param casing U_i, U_a, C_c
 * @param warmth T_c at the start [K]
 * @param outlet T [K]
 * @param room T_amb [K]
 * @param step [s]
 * @returns T_c at the end [K]
 */
export function casingAfter(
  { exchange, loss, heatCapacity }: Casing,
  warmth: number,
  outlet: number,
  room: number,
  step: number,
): number {
  const rest = (exchange * outlet + loss * room) / (exchange + loss);
  return rest + (warmth - rest) * Math.exp((-step * (exchange + loss)) / heatCapacity);
}

/**
 * What a thermometer in the outlet shows some time after a cold mill was set to work (eq. 28 with the powers of the steady
 * point, solved exactly; the powers themselves move by less than the rise does):
 *
 * θ(t) = θ_∞ [1 − (1 − r) e^{−t/τ}], r = (C_0 + U)/(C_0 + U_i), τ = C_c/(U_i C_0/(C_0 + U_i) + U_a)
 *
 * The loop itself settles in seconds and is taken as settled.
 *
 * @param c operating point
 * @param steady outlet temperature at rest [K]
 * @param time since the start [s]
 * @param casing U_i, U_a, C_c
 * @returns [K]
 */
export function thermometerAt(c: Case, steady: number, time: number, casing: Casing): number {
  const inlet = c.air.temperature;
  const { first, slow } = warmUp(c, casing);
  return inlet + (steady - inlet) * (1 - (1 - first) * Math.exp(-time / slow));
}

/**
 * Share of the rise that shows at once, and the time constant of the rest [s].
 *
 * @param c operating point
 * @param casing U_i, U_a, C_c
 */
export function warmUp(
  c: Case,
  { exchange, loss, heatCapacity }: Casing,
): { readonly first: number; readonly slow: number } {
  const flow = heatCapacityFlow(c);
  return {
    first: (flow + c.loop.casingLoss) / (flow + exchange),
    slow: heatCapacity / ((exchange * flow) / (flow + exchange) + loss),
  };
}

/**
 * Time until the thermometer of a mill started cold is within some kelvin of where it ends.
 *
 * @param rise steady rise θ_∞ [K]
 * @param within [K]
 * @returns [s]; 0 where it is within at once
 */
export function warmAfter(c: Case, rise: number, within: number, casing: Casing): number {
  const { first, slow } = warmUp(c, casing);
  return slow * Math.log(Math.max(1, (Math.abs(rise) * (1 - first)) / within));
}
