import { availablePower } from '../../model/rotor.ts';
import { toCase } from '../../scenario/operating-point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Readings } from '../../trials/readings.ts';

/** Readings at which a run is to be stopped; SI. */
export interface StopLimits {
  /** Rotor power: the motor's at this speed, or the share of it that the spec allows [W]. */
  readonly power: number;
  /** Outlet temperature of the spec [K]; absent where the spec has none. */
  readonly temperature?: number;
  /** Lowest air flow [m³/s]: a filter that clogs takes the air from the wheel, and the product coarsens. */
  readonly airFlow: number;
}

/** A reading whose 95 % band reaches beyond its limit; SI. */
interface Crossing {
  readonly reading: 'power' | 'temperature';
  readonly limit: number;
  /** Upper end of the band. */
  readonly high: number;
}

/** Part of the set air flow below which a run is stopped (`practice`: a tenth lost is a clogged filter or a leak). */
const LEAST_AIR = 0.9;

/** Numeric limits for a run at a scenario's settings. */
export function stopLimits(scenario: Scenario): StopLimits {
  const c = toCase(scenario);
  const load = Math.min(1, limitOf(scenario, 'motorLoad') ?? 1);
  const temperature = limitOf(scenario, 'outletTemperature');
  return {
    power: load * availablePower(c.rotor.motor, c.settings.rotorSpeed),
    ...(temperature === undefined ? {} : { temperature }),
    airFlow: LEAST_AIR * scenario.air.flow,
  };
}

/** Readings of a planned run whose 95 % band crosses a limit: they are what is to be watched. */
export function crossings(readings: Readings, limits: StopLimits): Crossing[] {
  return (['power', 'temperature'] as const).flatMap((reading) => {
    const limit = limits[reading];
    const { high } = readings[reading];
    return limit !== undefined && high > limit ? [{ reading, limit, high }] : [];
  });
}

/** Lowest upper limit the spec sets to a quantity as a number; undefined where it sets none. */
function limitOf({ spec }: Scenario, name: string): number | undefined {
  const limits = spec.flatMap(({ left, right, relation }) =>
    relation.startsWith('<') && left.kind === 'quantity' && left.name === name && right.kind === 'number'
      ? [right.value]
      : [],
  );
  return limits.length > 0 ? Math.min(...limits) : undefined;
}
