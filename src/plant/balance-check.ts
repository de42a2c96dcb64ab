import type { Case } from '../model/case.ts';
import type { SteadyState } from '../model/loop/state.ts';
import type { March } from './air-path/march.ts';
import type { Plant } from './plant.ts';
import type { Stream } from './stream.ts';
import { enthalpyFlow, solidsFlow } from './stream.ts';

/** What goes into the whole system less what comes out, over what goes in: dry air, water, dry solids, energy. */
export interface Closure {
  readonly air: number;
  readonly water: number;
  readonly solids: number;
  readonly energy: number;
}

/**
 * Balance over the outer boundary (eq. P2): openings, leaks, feed and shafts in; product, fines, stack and walls out.
 *
 * Summed from the flows that cross the boundary alone, so that any unit that loses or makes something shows.
 *
 * @param fan shaft power [W] and temperature behind it [K]
 * @returns relative residuals
 */
export function closureOf(
  c: Case,
  state: SteadyState,
  plant: Plant,
  { context, stations, mill, conveying, cyclone, filter, fanInlet }: March,
  fan: { readonly power: number; readonly outletTemperature: number },
): Closure {
  const { capacities, outside } = context;
  const open = stations[0]!.stream;
  const leaks = conveying.leak + cyclone.leak + filter.leak;
  const feed = c.settings.feedRate;
  const held = Math.max(plant.product.moisture, c.loop.evaporation);
  const evaporation = state.conditions.evaporated / feed;
  const left = (held - evaporation) / (1 - evaporation);
  const out = solidsFlow(cyclone.product) + solidsFlow(filter.fines) + solidsFlow(filter.emission);

  const airIn = open.dryAir + leaks;
  const waterIn = open.vapour + leaks * outside.humidityRatio + feed * held;
  const waterOut = fanInlet.vapour + fanInlet.evaporated + out * left;

  const from = open.temperature;
  const solid = (at: Stream, solids: readonly Float64Array[]) =>
    enthalpyFlow({ ...at, dryAir: 0, vapour: 0, evaporated: 0, solids }, capacities, from);
  const energyOut =
    solid(cyclone.parting, cyclone.product) +
    solid(filter.parting, filter.fines) +
    enthalpyFlow({ ...fanInlet, temperature: fan.outletTemperature }, capacities, from) +
    mill.heat +
    conveying.heat +
    cyclone.heat +
    filter.heat;
  const energyIn = state.conditions.rotorPower + state.conditions.wheelPower + fan.power;
  return {
    air: (airIn - fanInlet.dryAir) / airIn,
    water: (waterIn - waterOut) / (waterIn || 1),
    solids: (feed * (1 - held) - out * (1 - left)) / (feed * (1 - held)),
    energy: (energyIn - energyOut) / energyIn,
  };
}
