import { airViscosity } from '../../model/air.ts';
import { conveyingLine, type LineState } from '../line.ts';
import { cool, densityOf, mixIn, type Stream, solidsFlow, throttle, volumeFlow } from '../stream.ts';
import { type MarchContext, medianSize, scaledLoss, together } from './path-conditions.ts';

/** Outside air before it enters. */
export function outsideStream({ case: c, inlet, state }: MarchContext): Stream {
  const dryAir = inlet.massFlow / (1 + inlet.humidityRatio);
  return {
    dryAir,
    vapour: inlet.massFlow - dryAir,
    evaporated: 0,
    solids: c.components.map(() => new Float64Array(state.grid.classes)),
    temperature: c.air.temperature,
    pressure: c.air.pressure,
  };
}

/**
 * Main air and conveying air enter side by side, so both lose the same pressure: the greater of the two rules, and the
 * main inlet's damper takes the rest where the feed line needs more.
 */
export function enterMill(context: MarchContext, open: Stream) {
  const { plant, case: c, state, design, inlet } = context;
  const share = plant.surroundings.conveyingShare;
  const feedLine = conveyingLine(
    plant.feedLine,
    {
      flow: share * volumeFlow(open),
      airDensity: inlet.density,
      viscosity: airViscosity(open.temperature),
      solids: c.settings.feedRate,
      size: medianSize(state.grid.edges, together(state.components.map(({ feed }) => feed))),
    },
    share * design.inlet,
  );
  const main = scaledLoss(context, plant.surroundings.inletLoss, open);
  return {
    feedLine,
    damper: Math.max(0, feedLine.pressureLoss - main),
    stream: throttle(open, Math.max(main, feedLine.pressureLoss)),
  };
}

/** Through mill and wheel: Δp (1 + ζ λ) of eq. 24b (eq. P3); product, heat and evaporated water as the steady state has them. */
export function passMill({ case: c, state, plant }: MarchContext, inlet: Stream) {
  const { conditions, components } = state;
  const { casingLoss } = c.loop;
  const evaporation = conditions.evaporated / c.settings.feedRate;
  const loss = conditions.pressureLoss * (1 + plant.surroundings.loadLoss * conditions.loading);
  const stream: Stream = {
    ...throttle(inlet, loss),
    evaporated: conditions.evaporated,
    solids: components.map(({ product }) => product.map((rate) => rate * (1 - evaporation))),
    temperature: conditions.temperature,
  };
  return { stream, loss, heat: casingLoss * (conditions.temperature - c.air.temperature) };
}

/** Product line to the cyclone, with the outside air its flanges let in. */
export function conveyProduct(context: MarchContext, start: Stream) {
  const { plant, state, design, capacities, outside } = context;
  const line: LineState = conveyingLine(
    plant.productLine,
    {
      flow: volumeFlow(start),
      airDensity: densityOf(start),
      viscosity: airViscosity(start.temperature),
      solids: solidsFlow(start.solids),
      size: medianSize(state.grid.edges, together(start.solids)),
    },
    design.behindMill,
  );
  const cooled = cool(
    throttle(start, line.pressureLoss),
    capacities,
    plant.productLine.heatLoss,
    outside.temperature,
  );
  const leak = plant.surroundings.falseAir * start.dryAir;
  return { line, heat: cooled.heat, leak, stream: mixIn(cooled.stream, capacities, leak, outside) };
}
