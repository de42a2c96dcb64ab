import { discDrag, type Rundown, rotorDrag, rundown } from '../coast-down.ts';
import type { PlantState } from '../plant-state.ts';
import { solidsFlow, volumeFlow } from '../stream.ts';
import { type ScreeningLine, screenDust } from './plant-screening.ts';

/** Rim speed from which a turning part counts as slow [m/s]; it still takes a hand off (`practice`). */
const SLOW_RIM = 1;

/** Run-down of one shaft; absent inertia is an unknown hazard. */
export interface ShaftRundown {
  readonly part: string;
  readonly rundown?: Rundown;
}

/**
 * Screening of dust and turning parts at an operating point: dust data, concentrations place by place, rim speeds, heat,
 * and how long the shafts run on. Says what is a hazard and what is not known; never that anything is safe.
 */
export function screenPlant(state: PlantState): {
  readonly lines: ScreeningLine[];
  readonly shafts: ShaftRundown[];
} {
  const { conditions } = state.state;
  const shafts = shaftsOf(state);
  const rims = [
    { part: 'rotor', speed: conditions.tipSpeed },
    { part: 'wheel', speed: conditions.rimSpeed },
  ];
  const hottest = Math.max(...state.march.stations.map(({ stream }) => stream.temperature));
  return {
    lines: [
      ...screenDust(state.plant.dust, { rims, temperature: hottest }, placesOf(state)),
      ...shafts.map(rundownLine),
    ],
    shafts,
  };
}

/** Concentrations from the mill to the filter [kg/m³]. */
function placesOf({ state, march, case: c }: PlantState) {
  const { context, mill, conveying, cyclone } = march;
  const feed =
    c.settings.feedRate / (context.plant.surroundings.conveyingShare * volumeFlow(march.stations[0]!.stream));
  const at = (stream: typeof mill.stream) => solidsFlow(stream.solids) / volumeFlow(stream);
  return [
    { place: 'feed line', concentration: feed },
    { place: 'mill and wheel', concentration: state.circulating / state.conditions.airFlow },
    { place: 'product line and cyclone inlet', concentration: at(conveying.stream) },
    { place: 'cyclone outlet to filter', concentration: at(cyclone.stream) },
    {
      place: 'filter, at a cleaning pulse',
      concentration: pulseCloud(march.filter.unit.cake, context.plant.filter),
    },
  ];
}

/**
 * Cloud a cleaning pulse makes: the cake of one bag spread in the space that belongs to it between its neighbours,
 * w π/(d (t² − π/4)) with t the pitch over the bag's diameter (eq. P24, `derived`; whatever the mean of the filter is).
 *
 * @param cake w just before cleaning [kg/m²]
 * @param filter bag diameter d [m] and pitch t [-]
 * @returns [kg/m³]
 */
export function pulseCloud(
  cake: number,
  { bagDiameter, pitch }: { readonly bagDiameter: number; readonly pitch: number },
): number {
  return (cake * Math.PI) / (bagDiameter * (pitch * pitch - Math.PI / 4));
}

function shaftsOf({ case: c, plant, state }: PlantState): ShaftRundown[] {
  const { rotorInertia, wheelInertia, bearingTorque = 0 } = plant.shafts;
  const { airDensity, viscosity } = state.conditions;
  const turn = 2 * Math.PI;
  const rotor = turn * c.settings.rotorSpeed;
  const wheel = turn * c.settings.wheelSpeed;
  const rotorRadius = c.rotor.geometry.diameter / 2;
  const wheelRadius = c.wheel.geometry.diameter / 2;
  const along = (part: string, inertia: number | undefined, drag: number, speed: number, radius: number) => ({
    part,
    ...(inertia === undefined
      ? {}
      : { rundown: rundown(inertia, drag, bearingTorque, speed, SLOW_RIM / radius) }),
  });
  const drag = rotorDrag(c.rotor.coefficients.idleNumber, airDensity, c.rotor.geometry.diameter);
  return [
    along('rotor', rotorInertia, drag, rotor, rotorRadius),
    along('wheel', wheelInertia, discDrag(wheel, wheelRadius, airDensity, viscosity), wheel, wheelRadius),
  ];
}

const LOCK = 'A stop button does not stop a rotor. Lock out, and measure standstill before any door opens.';

function rundownLine({ part, rundown: found }: ShaftRundown): ScreeningLine {
  const item = `run-down: ${part}`;
  if (!found)
    return { item, standing: 'unknown hazard', finding: 'moment of inertia not given', caution: LOCK };
  const rest = Number.isNaN(found.toRest)
    ? 'time to standstill not known without the bearing torque'
    : `about ${Math.ceil(found.toRest)} s to standstill`;
  return {
    item,
    standing: 'hazard',
    finding: `without brake about ${Math.ceil(found.toSlow)} s until its rim is below ${SLOW_RIM} m/s; ${rest}`,
    caution: `${LOCK} Measured run-down, not this figure, sets any door lock.`,
  };
}
