import { AIR_HEAT_CAPACITY, EVAPORATION_HEAT, humidAirDensity } from '../model/air.ts';

/** Air with the solids it carries at one place. Mass flows [kg/s], temperature [K], absolute pressure [Pa]. */
export interface Stream {
  readonly dryAir: number;
  /** Vapour that came in with outside air. */
  readonly vapour: number;
  /** Vapour that left the product. */
  readonly evaporated: number;
  /** Solids with their water, by component and class. */
  readonly solids: readonly Float64Array[];
  readonly temperature: number;
  readonly pressure: number;
}

/** Heat capacities of a stream's parts [J/(kg K)]. */
export interface HeatCapacities {
  readonly components: readonly number[];
  /** Evaporated water keeps the heat capacity of the feed it left, as in the mill's own balance (eq. 25). */
  readonly evaporated: number;
}

/** Outside air as it leaks in: humidity ratio and temperature. */
export interface OutsideAir {
  readonly humidityRatio: number;
  readonly temperature: number;
}

/** Humidity ratio of a stream's air, vapour of either origin [kg/kg dry air]. */
export function humidityOf({ dryAir, vapour, evaporated }: Stream): number {
  return (vapour + evaporated) / dryAir;
}

/** Density of a stream's humid air [kg/m³]. */
export function densityOf(stream: Stream): number {
  return humidAirDensity(stream.temperature, stream.pressure, humidityOf(stream));
}

/** Mass flow of a stream's humid air [kg/s]. */
export function gasFlow({ dryAir, vapour, evaporated }: Stream): number {
  return dryAir + vapour + evaporated;
}

/** Volume flow of a stream's humid air [m³/s]. */
export function volumeFlow(stream: Stream): number {
  return gasFlow(stream) / densityOf(stream);
}

/** Sum of solids of a component, or of all. */
export function solidsFlow(solids: readonly Float64Array[]): number {
  let sum = 0;
  for (const rates of solids) for (const rate of rates) sum += rate;
  return sum;
}

/** Heat capacity flow of a stream [W/K]: (air and its vapour) c_air + Σ solids c_p + evaporated c_p. */
export function capacityFlow(stream: Stream, capacities: HeatCapacities): number {
  let sum = AIR_HEAT_CAPACITY * (stream.dryAir + stream.vapour) + capacities.evaporated * stream.evaporated;
  stream.solids.forEach((rates, k) => {
    sum += capacities.components[k]! * solidsFlow([rates]);
  });
  return sum;
}

/**
 * Enthalpy flow of a stream above a temperature, C (T − T_0) + L · evaporated [W]; the outside air's own vapour carries
 * no latent heat, since none of it changes phase.
 */
export function enthalpyFlow(stream: Stream, capacities: HeatCapacities, reference: number): number {
  return (
    capacityFlow(stream, capacities) * (stream.temperature - reference) + EVAPORATION_HEAT * stream.evaporated
  );
}

/** A stream that gives heat to the room through a wall of U [W/K], T − T_room falling by e^(−U/C) (eq. P1); and that heat [W]. */
export function cool(
  stream: Stream,
  capacities: HeatCapacities,
  loss: number,
  room: number,
): { readonly stream: Stream; readonly heat: number } {
  const capacity = capacityFlow(stream, capacities);
  const temperature = room + (stream.temperature - room) * Math.exp(-loss / capacity);
  return { stream: { ...stream, temperature }, heat: capacity * (stream.temperature - temperature) };
}

/** A stream with outside air mixed in (eq. P1): dry air [kg/s] with its vapour, at the outside temperature. */
export function mixIn(
  stream: Stream,
  capacities: HeatCapacities,
  dryAir: number,
  outside: OutsideAir,
): Stream {
  const added = dryAir * (1 + outside.humidityRatio);
  const capacity = capacityFlow(stream, capacities);
  const extra = AIR_HEAT_CAPACITY * added;
  return {
    ...stream,
    dryAir: stream.dryAir + dryAir,
    vapour: stream.vapour + dryAir * outside.humidityRatio,
    temperature:
      outside.temperature + (capacity * (stream.temperature - outside.temperature)) / (capacity + extra),
  };
}

/** A stream after a pressure loss [Pa]. */
export function throttle(stream: Stream, loss: number): Stream {
  return { ...stream, pressure: stream.pressure - loss };
}
