import { humidityRatio } from '../air.ts';
import { type HeatSources, outletTemperature } from '../heat.ts';
import type { Fixed } from './fixed.ts';

/** Outlet air: its temperature [K] and the water that evaporated into it [kg/s]. */
export interface Outlet {
  temperature: number;
  evaporated: number;
}

const MOST_STEPS = 80;
/** Width, as a share of all the water there is, to which the water that evaporates is found. */
const FOUND = 1e-13;

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
  const isOver = (evaporated: number): boolean => {
    const temperature = at(evaporated);
    // so cold that the balance has left the formulas: certainly past saturation
    if (!(temperature > COLDEST)) return true;
    const held = fixed.inlet.humidityRatio + evaporated / dryAir;
    // not a number where vapour alone would fill the pressure: air then holds any amount
    return held > humidityRatio(temperature, pressure, 1);
  };
  let low = 0;
  let high = water;
  if (isOver(water)) {
    for (let step = 0; step < MOST_STEPS && high - low > FOUND * water; step++) {
      const middle = (low + high) / 2;
      if (isOver(middle)) high = middle;
      else low = middle;
    }
    outlet.evaporated = low;
  } else outlet.evaporated = water;
  outlet.temperature = at(outlet.evaporated);
}

/** Lower end of the saturation formula [K]. */
const COLDEST = 173.15;
