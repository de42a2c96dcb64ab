import type { Case } from '../../model/case.ts';
import type { SteadyState } from '../../model/loop/state.ts';
import type { Plant } from '../plant.ts';
import type { Stream } from '../stream.ts';
import { cleanInFilter, collectInCyclone, reachFan } from './collect.ts';
import { conveyProduct, enterMill, outsideStream, passMill } from './intake.ts';
import { type MarchContext, marchContext, scaledLoss } from './path-conditions.ts';

/** Air and solids at one place, from the opening to the fan. */
interface Station {
  readonly name: string;
  readonly stream: Stream;
}

/** The units in the order the air meets them, up to the fan. */
export interface March {
  readonly context: MarchContext;
  readonly stations: readonly Station[];
  readonly intake: ReturnType<typeof enterMill>;
  readonly mill: ReturnType<typeof passMill>;
  readonly conveying: ReturnType<typeof conveyProduct>;
  readonly cyclone: ReturnType<typeof collectInCyclone>;
  readonly filter: ReturnType<typeof cleanInFilter>;
  readonly fanInlet: Stream;
  /** Rise the fan must give: to the outside, and what lies behind it [Pa]. */
  readonly riseNeeded: number;
}

/**
 * Follows the air from the opening to the fan: every unit at the state the one before leaves it in.
 *
 * Static pressure only falls: what a widening duct would give back is not counted. Densities are those before each unit.
 *
 * @param c operating point
 * @param state its steady state
 * @param plant the units
 * @param designFlow air flow that sizes left out are chosen for, at the inlet state [m³/s]
 */
export function march(c: Case, state: SteadyState, plant: Plant, designFlow: number): March {
  const context = marchContext(c, state, plant, designFlow);
  const open = outsideStream(context);
  const intake = enterMill(context, open);
  const mill = passMill(context, intake.stream);
  const conveying = conveyProduct(context, mill.stream);
  const cyclone = collectInCyclone(context, conveying.stream, conveying.line.velocity);
  const filter = cleanInFilter(context, cyclone.stream);
  const fanInlet = reachFan(context, filter.stream);
  const behind = scaledLoss(context, plant.surroundings.stackLoss, fanInlet);
  return {
    context,
    stations: [
      { name: 'outside', stream: open },
      { name: 'mill inlet', stream: intake.stream },
      { name: 'mill outlet', stream: mill.stream },
      { name: 'cyclone inlet', stream: conveying.stream },
      { name: 'cyclone outlet', stream: cyclone.stream },
      { name: 'filter outlet', stream: filter.stream },
      { name: 'fan inlet', stream: fanInlet },
    ],
    intake,
    mill,
    conveying,
    cyclone,
    filter,
    fanInlet,
    riseNeeded: c.air.pressure + behind - fanInlet.pressure,
  };
}
