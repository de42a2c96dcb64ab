import { type InletAir, inletAir } from '../../model/air.ts';
import type { Case } from '../../model/case.ts';
import { fillUndersize } from '../../model/loop/mass-balance.ts';
import type { SteadyState } from '../../model/loop/state.ts';
import { buildCurve, sizeAt } from '../../model/psd/curve.ts';
import { type AirlockState, airlock } from '../airlock.ts';
import type { Plant } from '../plant.ts';
import {
  densityOf,
  gasFlow,
  type HeatCapacities,
  type OutsideAir,
  type Stream,
  solidsFlow,
} from '../stream.ts';

/** What every unit on the way may look at. */
export interface MarchContext {
  readonly case: Case;
  readonly state: SteadyState;
  readonly plant: Plant;
  readonly inlet: InletAir;
  readonly outside: OutsideAir;
  readonly capacities: HeatCapacities;
  /** Air flow sizes left out are chosen for: at the inlet state, behind the mill, and behind its flanges [m³/s]. */
  readonly design: { readonly inlet: number; readonly behindMill: number; readonly collectors: number };
}

/** Gathers what stays the same on the way through the plant. */
export function marchContext(c: Case, state: SteadyState, plant: Plant, designFlow: number): MarchContext {
  const inlet = inletAir(c.air);
  const behindMill = (designFlow * state.conditions.temperature) / c.air.temperature;
  let evaporated = 0;
  for (const { share, material } of c.components) evaporated += share * material.heatCapacity;
  return {
    case: c,
    state,
    plant,
    inlet,
    outside: { humidityRatio: inlet.humidityRatio, temperature: c.air.temperature },
    capacities: { components: c.components.map(({ material }) => material.heatCapacity), evaporated },
    design: { inlet: designFlow, behindMill, collectors: behindMill * (1 + plant.surroundings.falseAir) },
  };
}

/** A pressure loss given at the design flow follows ṁ²/ρ [Pa] (eq. P3). */
export function scaledLoss({ design, inlet }: MarchContext, loss: number, stream: Stream): number {
  return (loss * gasFlow(stream) ** 2) / (densityOf(stream) * inlet.density * design.inlet ** 2);
}

/** All components together by class. */
export function together(solids: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(solids[0]!.length);
  for (const rates of solids) for (let i = 0; i < sum.length; i++) sum[i]! += rates[i]!;
  return sum;
}

/** Median size of masses by class [m]; the lowest resolved size where it is finer. */
export function medianSize(edges: Float64Array, masses: Float64Array): number {
  const undersize = new Float64Array(edges.length);
  fillUndersize(masses, undersize);
  const size = sizeAt(buildCurve(edges, undersize), 0.5);
  return Number.isNaN(size) ? edges[1]! : size;
}

/** The part of every class that a share names, and the rest. */
export function divide(
  solids: readonly Float64Array[],
  share: (component: number, i: number) => number,
): readonly [taken: readonly Float64Array[], left: readonly Float64Array[]] {
  const taken = solids.map((rates, k) => rates.map((rate, i) => rate * share(k, i)));
  return [taken, solids.map((rates, k) => rates.map((rate, i) => rate - taken[k]![i]!))];
}

/** The airlock under a collector, and the dry outside air it lets in [kg/s]. */
export function lockUnder(
  { case: c, plant, inlet }: MarchContext,
  collected: readonly Float64Array[],
  pressure: number,
): { readonly lock: AirlockState; readonly leak: number } {
  const solids = solidsFlow(collected);
  let volume = 0;
  collected.forEach((rates, k) => {
    volume += solidsFlow([rates]) / c.components[k]!.material.density;
  });
  const lock = airlock(plant.airlock, {
    solids,
    bulkDensity: plant.product.bulkDensity,
    particleDensity: volume > 0 ? solids / volume : c.components[0]!.material.density,
    suction: c.air.pressure - pressure,
    airDensity: inlet.density,
  });
  const dry = inlet.density / (1 + inlet.humidityRatio);
  return { lock, leak: (lock.pocketLeakage + lock.clearanceLeakage) * dry };
}
