import type { Case } from '../model/case.ts';
import { fillUndersize } from '../model/loop/mass-balance.ts';
import type { SteadyState } from '../model/loop/state.ts';
import type { Warning } from '../model/parameters.ts';
import { buildCurve, type SizeCurve } from '../model/psd/curve.ts';
import { type March, march } from './air-path/march.ts';
import { together } from './air-path/path-conditions.ts';
import { type Closure, closureOf } from './balance-check.ts';
import { fanPower, fanSpeed } from './fan.ts';
import { inletFlow } from './fan-operating-point.ts';
import { type FeederState, feeder } from './feeder.ts';
import { type MoistureState, moistureState } from './moisture.ts';
import type { Plant } from './plant.ts';
import { capacityFlow, densityOf, humidityOf, solidsFlow, volumeFlow } from './stream.ts';

/** One stream of product: rate with its water [kg/s], water by mass [-], size curve; no curve where nothing flows. */
export interface ProductStream {
  readonly rate: number;
  readonly moisture: number;
  readonly bySize: Float64Array;
  readonly curve?: SizeCurve;
}

/** The fan at this point. */
interface FanState {
  readonly flow: number;
  /** Pressure rise needed [Pa] and density at the inlet [kg/m³]. */
  readonly rise: number;
  readonly density: number;
  /** Speed over that of the curve [-]; NaN where no curve is given. */
  readonly speed: number;
  readonly power: number;
  /** Shaft power over motor power [-]; NaN where no motor is given. */
  readonly motorUse: number;
  /** Air behind the fan [K]. */
  readonly outletTemperature: number;
}

/** Everything around the mill at one operating point. */
export interface PlantState {
  readonly case: Case;
  readonly state: SteadyState;
  readonly plant: Plant;
  readonly march: March;
  readonly feeder: FeederState;
  readonly fan: FanState;
  readonly moisture: MoistureState;
  readonly streams: Readonly<Record<'cyclone' | 'filter' | 'blended' | 'emission', ProductStream>>;
  readonly closure: Closure;
  readonly warnings: readonly Warning[];
}

/**
 * The plant around a solved operating point (`march` with feeder, fan, moisture, product streams and balance).
 *
 * @param c operating point
 * @param state its steady state
 * @param plant the units, SI
 * @param designFlow air flow that sizes left out are chosen for [m³/s at the inlet]; default the point's own
 */
export function plantAt(c: Case, state: SteadyState, plant: Plant, designFlow?: number): PlantState {
  const marched = march(c, state, plant, designFlow ?? inletFlow(c));
  return assemble(c, state, plant, marched);
}

/** Puts feeder, fan, moisture, product streams and balance to a march. */
function assemble(c: Case, state: SteadyState, plant: Plant, marched: March): PlantState {
  const fan = fanAt(plant, marched);
  const fed = feeder(plant.feeder, c.settings.feedRate);
  const { parting } = marched.cyclone;
  const moisture = moistureState(plant.product, {
    humidityRatio: humidityOf(parting),
    pressure: parting.pressure,
    outsidePressure: c.air.pressure,
    temperature: parting.temperature,
    inletTemperature: c.air.temperature,
  });
  // a feed said to hold less than is to evaporate is taken to hold that much
  const held = Math.max(plant.product.moisture, c.loop.evaporation);
  const water = waterLeft(held, state.conditions.evaporated / c.settings.feedRate);
  const stream = (solids: readonly Float64Array[]) => productStream(state.grid.edges, solids, water);
  const { product } = marched.cyclone;
  const { fines, emission } = marched.filter;
  const blended = product.map((rates, k) => rates.map((rate, i) => rate + fines[k]![i]!));
  return {
    case: c,
    state,
    plant,
    march: marched,
    feeder: fed,
    fan,
    moisture,
    streams: {
      cyclone: stream(product),
      filter: stream(fines),
      blended: stream(blended),
      emission: stream(emission),
    },
    closure: closureOf(c, state, plant, marched, fan),
    warnings: [
      ...fed.warnings,
      ...marched.intake.feedLine.warnings.map(at('feed line')),
      ...marched.conveying.line.warnings.map(at('product line')),
      ...marched.cyclone.unit.warnings,
      ...marched.cyclone.lock.warnings.map(at('cyclone')),
      ...marched.filter.unit.warnings,
      ...marched.filter.lock.warnings.map(at('filter')),
      ...moisture.warnings,
      ...fanWarnings(fan),
      ...waterWarnings(plant.product.moisture, c.loop.evaporation),
      ...suctionWarnings(c, marched),
    ],
  };
}

function at(place: string): (warning: Warning) => Warning {
  return ({ code, message }) => ({ code, message: `${place}: ${message}` });
}

function productStream(
  edges: Float64Array,
  solids: readonly Float64Array[],
  moisture: number,
): ProductStream {
  const bySize = together(solids);
  const rate = solidsFlow(solids);
  if (!(rate > 0)) return { rate: 0, moisture, bySize };
  const undersize = new Float64Array(edges.length);
  fillUndersize(bySize, undersize);
  return { rate, moisture, bySize, curve: buildCurve(edges, undersize) };
}

/** Water left in the product by mass, (X − e)/(1 − e) [-] (eq. P21); none where more evaporates than was fed. */
function waterLeft(moisture: number, evaporation: number): number {
  return Math.max(0, moisture - evaporation) / (1 - evaporation);
}

function fanAt({ fan, surroundings }: Plant, { fanInlet, riseNeeded, context }: March): FanState {
  const flow = volumeFlow(fanInlet);
  const density = densityOf(fanInlet);
  const power = fanPower(
    flow,
    riseNeeded,
    (fan?.efficiency as number | undefined) ?? surroundings.fanEfficiency,
  );
  const motor = fan?.motorPower as number | undefined;
  return {
    flow,
    rise: riseNeeded,
    density,
    speed: fan ? fanSpeed(fan, flow, riseNeeded, density) : Number.NaN,
    power,
    motorUse: motor === undefined ? Number.NaN : power / motor,
    outletTemperature: fanInlet.temperature + power / capacityFlow(fanInlet, context.capacities),
  };
}

function fanWarnings({ motorUse, speed }: FanState): Warning[] {
  const found: Warning[] = [];
  if (motorUse > 1) {
    found.push({
      code: 'fan-overload',
      message: `the fan needs ${Math.round(100 * motorUse)} % of its motor power`,
    });
  }
  if (speed > 1.0005) {
    found.push({
      code: 'fan-speed',
      message: `the fan would have to run at ${Math.round(100 * speed)} % of its curve's speed: this fan cannot deliver this air flow`,
    });
  }
  return found;
}

function waterWarnings(moisture: number, evaporation: number): Warning[] {
  if (evaporation <= moisture) return [];
  return [
    {
      code: 'moisture-balance',
      message:
        'more water evaporates in the mill than the feed is said to hold: the feed is taken to hold that much',
    },
  ];
}

/** Suction beyond which the mill's own air density is no longer that of the inlet [share of the outside pressure]. */
const DEEP_SUCTION = 0.1;

function suctionWarnings(c: Case, { mill }: March): Warning[] {
  const share = 1 - mill.stream.pressure / c.air.pressure;
  if (share < DEEP_SUCTION) return [];
  return [
    {
      code: 'deep-suction',
      message: `suction behind the mill is ${Math.round(100 * share)} % of the outside pressure; the mill is computed at its inlet pressure`,
    },
  ];
}
