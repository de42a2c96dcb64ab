import { humidityRatio } from '../air.ts';
import { type HeatSources, outletTemperature } from '../heat.ts';
import { bracket } from '../numerics/root.ts';
import type { Fixed } from './fixed.ts';

/** Outlet air: its temperature [K] and the water that evaporated into it [kg/s]. */
export interface Outlet {
  temperature: number;
  evaporated: number;
}

/** Halvings after which the water that evaporates is found to 1e-13 of all the water there is. */
const HALVINGS = 44;

/**
 * Outlet temperature with evaporation that stops at saturation (eq. 25): what evaporates is the lesser of what the product
 * gives and what brings the outlet air to 100 %, at the temperature the whole balance then has (adiabatic saturation). Water
 * evaporated cools and moistens, so the excess over saturation rises with it and has one zero.
 *
 * @param sources powers without evaporation [W]
 * @param fixed inlet air, heat capacities, water there is [kg/s] and its heat of evaporation
 * @param inlet T_in [K]
 * @param pressure [Pa]
 * @param outlet written in place
 */
export function fillOutlet(
  sources: HeatSources,
  fixed: Fixed,
  inlet: number,
  pressure: number,
  outlet: Outlet,
): void {
  const { water, evaporationHeat, heatCapacityFlow } = fixed;
  const at = (evaporated: number) =>
    outletTemperature(
      { ...sources, fixed: sources.fixed - evaporated * evaporationHeat },
      heatCapacityFlow,
      inlet,
    );
  const dryAir = fixed.inlet.massFlow / (1 + fixed.inlet.humidityRatio);
  const isUnder = (evaporated: number): boolean => {
    const temperature = at(evaporated);
    // so cold that the balance has left the formulas: certainly past saturation
    if (!(temperature > COLDEST)) return false;
    const held = fixed.inlet.humidityRatio + evaporated / dryAir;
    // not a number where vapour alone would fill the pressure: air then holds any amount
    return !(held > humidityRatio(temperature, pressure, 1));
  };
  outlet.evaporated = isUnder(water) ? water : bracket(isUnder, 0, water, { steps: HALVINGS }).holds;
  outlet.temperature = at(outlet.evaporated);
}

/** Lower end of the saturation formula [K]. */
const COLDEST = 173.15;
