import type { Case, Loop, Rotor, Wheel } from '../../model/case.ts';
import { freeArea } from '../../model/wheel/wheel-flow.ts';

/** Another machine: its rotor, one of its wheels, its loop. */
export interface Machine {
  readonly rotor: Rotor;
  readonly wheel: Wheel;
  readonly wheelName: string;
  readonly loop: Loop;
}

/**
 * The same feed on another machine, where the search for its speeds starts: equal tip speed, equal rim speed, equal inflow
 * velocity at the wheel (so air in proportion to its free area), equal solids per air at its outlet.
 *
 * @param c the point to be carried over
 * @param machine the other machine
 * @param airFlow air flow of the other machine, stated as the first one's is [m³/s]; by the inflow velocity where absent
 */
export function onMachine(c: Case, machine: Machine, airFlow?: number): Case {
  const flow = airFlow ?? (c.air.flow * radialArea(machine.wheel)) / radialArea(c.wheel);
  const tip = c.settings.rotorSpeed * c.rotor.geometry.diameter;
  const rim = c.settings.wheelSpeed * c.wheel.geometry.diameter;
  // what stands around the first machine stays with it
  return {
    components: c.components,
    ...machine,
    air: { ...c.air, flow },
    settings: {
      rotorSpeed: tip / machine.rotor.geometry.diameter,
      wheelSpeed: rim / machine.wheel.geometry.diameter,
      feedRate: (c.settings.feedRate * flow) / c.air.flow,
    },
  };
}

/** Free area over the factor of the inflow velocity, A/χ_r [m²]. */
function radialArea({ geometry, coefficients }: Wheel): number {
  return freeArea(geometry) / coefficients.radialFactor;
}
