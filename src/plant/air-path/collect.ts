import { airViscosity } from '../../model/air.ts';
import { type CycloneState, cycloneDiameter } from '../cyclone/cyclone-law.ts';
import { CYCLONES } from '../cyclone/index.ts';
import { bagFilter } from '../filter.ts';
import { cool, densityOf, mixIn, type Stream, solidsFlow, throttle, volumeFlow } from '../stream.ts';
import { divide, lockUnder, type MarchContext, scaledLoss } from './path-conditions.ts';

/** One cyclone or several side by side, as one unit. */
interface CycloneUnit extends CycloneState {
  readonly diameter: number;
  readonly given: boolean;
  readonly count: number;
  /** Share of all solids kept [-]. */
  readonly collected: number;
}

/** Cyclone with its airlock: what it keeps and loses by size, and the outside air that rises through the lock. */
export function collectInCyclone(context: MarchContext, start: Stream, approach: number) {
  const { plant, case: c, state, design, capacities, outside } = context;
  const law = CYCLONES[plant.cyclone.law]!;
  const count = plant.cyclone.count as number;
  const diameter = cycloneDiameter(law, plant.cyclone, design.collectors);
  const separated = law.separate(plant.cyclone, diameter, {
    flow: volumeFlow(start) / count,
    airDensity: densityOf(start),
    viscosity: airViscosity(start.temperature),
    sizes: state.grid.sizes,
    streams: start.solids.map((rates, k) => ({
      density: c.components[k]!.material.density,
      rates: rates.map((rate) => rate / count),
    })),
    bulkDensity: plant.product.bulkDensity,
    approach,
  });
  const [kept, lost] = divide(start.solids, (k, i) => separated.kept[k]![i]!);
  const lossOfHeat = plant.surroundings.collectorHeatLoss;
  const cooled = cool(throttle(start, separated.pressureLoss), capacities, lossOfHeat, outside.temperature);
  const { lock, leak } = lockUnder(context, kept, cooled.stream.pressure);
  const unit: CycloneUnit = {
    ...separated,
    diameter,
    given: plant.cyclone.diameter !== undefined,
    count,
    collected: solidsFlow(kept) / solidsFlow(start.solids),
  };
  return {
    unit,
    lock,
    leak,
    heat: cooled.heat,
    /** Air and product where they part. */
    parting: cooled.stream,
    product: kept,
    stream: mixIn({ ...cooled.stream, solids: lost }, capacities, leak, outside),
  };
}

/** Filter with its airlock. */
export function cleanInFilter(context: MarchContext, start: Stream) {
  const { plant, design, capacities, outside } = context;
  const duty = { flow: volumeFlow(start), dust: solidsFlow(start.solids) };
  const unit = bagFilter(plant.filter, duty, design.collectors);
  const [emission, fines] = divide(start.solids, () => plant.filter.penetration);
  const lossOfHeat = plant.surroundings.filterHeatLoss;
  const cooled = cool(throttle(start, unit.pressureLoss), capacities, lossOfHeat, outside.temperature);
  const { lock, leak } = lockUnder(context, fines, cooled.stream.pressure);
  return {
    unit,
    lock,
    leak,
    heat: cooled.heat,
    parting: cooled.stream,
    fines,
    emission,
    stream: mixIn({ ...cooled.stream, solids: emission }, capacities, leak, outside),
  };
}

/** Clean air duct to the fan. */
export function reachFan(context: MarchContext, start: Stream): Stream {
  return throttle(start, scaledLoss(context, context.plant.surroundings.ductLoss, start));
}
