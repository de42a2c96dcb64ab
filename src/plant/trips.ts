import { airViscosity, inletAir } from '../model/air.ts';
import type { Case } from '../model/case.ts';
import { discDrag, rotorDrag, type Shafts, speedAfter } from './coast-down.ts';

/** What may stop by itself while a mill runs. */
export const TRIPS = ['wheel', 'rotor', 'fan', 'feeder', 'airlock'] as const;
export type TripOf = (typeof TRIPS)[number];

/** A trip at a time [s]. */
export interface Trip {
  readonly at: number;
  readonly trip: TripOf;
}

const STEEL = 7850;
/** Thickness of the disc a rotor or wheel of unknown inertia is taken for, over its diameter (`assumed`). */
const DISC_THICKNESS = 0.1;
/** Time in which a fan that lost its drive falls to half its speed [s] (`assumed`; air brakes it as it does a rotor). */
const FAN_HALF_TIME = 5;
/** Speeds and air are held at steps of this share while they fall, and never fall below it. */
const RESOLUTION = 0.01;

/** Inertia of a steel disc that stands for a rotor or wheel nobody weighed [kg m²] (`assumed`). */
function assumedInertia(diameter: number): number {
  const radius = diameter / 2;
  const mass = STEEL * Math.PI * radius ** 2 * DISC_THICKNESS * diameter;
  return (mass * radius ** 2) / 2;
}

/**
 * Operating point against time under trips: rotor and wheel run down without brake, the air falls with the fan's speed. The
 * feed goes on unless an event stops it; a feeder's trip is an event of the feed, an airlock's changes nothing in the mill.
 *
 * @param c operating point before any trip
 * @param trips times and what stops
 * @param shafts inertias and bearing torque; a disc of steel where an inertia is not known
 * @returns the same object as long as nothing changes
 */
export function casesUnderTrips(
  c: Case,
  trips: readonly Trip[],
  shafts: Shafts = {},
): (time: number) => Case {
  const first = (of: TripOf) =>
    trips
      .filter(({ trip }) => trip === of)
      .reduce((least, { at }) => Math.min(least, at), Number.POSITIVE_INFINITY);
  const at = { rotor: first('rotor'), wheel: first('wheel'), fan: first('fan') };
  if (!Object.values(at).some(Number.isFinite)) return () => c;
  const left = coasting(c, shafts);
  let last = { key: '1/1/1', of: c };
  return (time) => {
    const shares = (['rotor', 'wheel', 'fan'] as const).map((part) =>
      time > at[part] ? held(left[part](time - at[part])) : 1,
    );
    const key = shares.join('/');
    if (key !== last.key) last = { key, of: slowed(c, shares as [number, number, number]) };
    return last.of;
  };
}

function held(share: number): number {
  return Math.max(RESOLUTION, Math.round(share / RESOLUTION) * RESOLUTION);
}

function slowed(c: Case, [rotor, wheel, fan]: readonly [number, number, number]): Case {
  return {
    ...c,
    air: { ...c.air, flow: c.air.flow * fan },
    settings: {
      ...c.settings,
      rotorSpeed: c.settings.rotorSpeed * rotor,
      wheelSpeed: c.settings.wheelSpeed * wheel,
    },
  };
}

/** Share of its speed each part keeps a time after it lost its drive. */
function coasting(
  { rotor, wheel, air, settings }: Case,
  { rotorInertia, wheelInertia, bearingTorque = 0 }: Shafts,
): Record<'rotor' | 'wheel' | 'fan', (time: number) => number> {
  const { density } = inletAir(air);
  const shaft = (turns: number, inertia: number, drag: number) => (time: number) => {
    const from = 2 * Math.PI * turns;
    return speedAfter(inertia, drag, bearingTorque, from, time) / from;
  };
  const wheelDiameter = wheel.geometry.diameter;
  const viscosity = airViscosity(air.temperature);
  return {
    rotor: shaft(
      settings.rotorSpeed,
      rotorInertia ?? assumedInertia(rotor.geometry.diameter),
      rotorDrag(rotor.coefficients.idleNumber, density, rotor.geometry.diameter),
    ),
    wheel: shaft(
      settings.wheelSpeed,
      wheelInertia ?? assumedInertia(wheelDiameter),
      discDrag(2 * Math.PI * settings.wheelSpeed, wheelDiameter / 2, density, viscosity),
    ),
    fan: (time) => 1 / (1 + time / FAN_HALF_TIME),
  };
}
