import { inletAir } from '../model/air.ts';
import type { Case } from '../model/case.ts';
import { type SolveOptions, solve } from '../model/loop/solve.ts';
import type { State } from '../model/loop/state.ts';
import type { Kept } from '../model/loop/workspace.ts';
import { bracket, middleOf } from '../model/numerics/root.ts';
import { type March, march } from './air-path/march.ts';
import { FAN_CURVES, fanPressure } from './fan.ts';
import type { Plant } from './plant.ts';
import { densityOf, volumeFlow } from './stream.ts';

/** A point whose air the fan decided. */
interface Supplied {
  /** The case with the air flow that came out, stated at the inlet. */
  readonly case: Case;
  readonly state: State;
}

/** Whether the plant's fan runs at a speed of its own, so that the air follows it. */
export function fanDecides(plant: Plant): boolean {
  return plant.fan?.speed !== undefined;
}

/** Fan and plant agree where the flow given and the flow looked at differ by no more, relative. */
const AGREED = 1e-12;
/** Once the descent is this close to the answer it steps across, to have it between two flows. */
const CLOSE = 1e-3;
/** Step down in ln Q where the mill chokes, or the loss exceeds what there is. */
const BLIND_STEP = -0.03;
/** Longest step down in ln Q; and lowest flow looked at, over the fan's free flow, and over the flow where the mill first chokes on the way down. */
const LONGEST_STEP = -0.15;
const LOWEST = 0.1;
const LOWEST_CHOKED = 0.75;
const MOST_LOOKS = 100;

/** The mill and plant at one air flow. */
interface Look {
  /** At the inlet state [m³/s]. */
  readonly flow: number;
  readonly case: Case;
  readonly state: State;
  /** ln of the flow the fan would give over this one; NaN where the mill chokes or the plant loses all pressure. */
  readonly excess: number;
}

/**
 * Steady state with the air that the fan gives at its speed: loop and air together (eq. P19).
 *
 * Wanted is Q with Δp_fan(Q) = Δp_plant(Q, G(Q)). The search comes down from above in short steps, each no
 * longer than to where the loss taken on as ∝ Q² meets the fan's curve, to the first, greatest answer: the one reached from
 * empty, when the air is greatest. The last interval is closed by false position.
 *
 * @param c operating point; its air flow is what sizes left out are chosen for
 * @param plant with a fan curve and speed
 * @returns the point; choked where it chokes on the way down, at that flow and all down to three quarters of it
 */
export function solveWithFan(c: Case, plant: Plant, options: SolveOptions = {}): Supplied {
  const found = supplyFor(c, plant, options.kept ?? {}, freeFlowAtInlet(c, plant));
  const state = solve(found, options);
  if (options.choke === false) return { case: found, state };
  return { case: found, state: { ...state, feedAtChoke: feedAtChoke(c, plant, state, found.air.flow) } };
}

/** The case with the air flow the fan gives; where the mill chokes, with the greatest flow it chokes at. */
function supplyFor(c: Case, plant: Plant, kept: Kept, top: number): Case {
  const design = inletFlow(c);
  return descend((flow) => lookAt(c, plant, design, flow, kept), top).case;
}

/** How closely the feed at which it chokes is bracketed, relative. */
const CHOKE_WITHIN = 0.01;
const CHOKE_STEP = 1.25;
const MOST_TIMES = 1e3;

/**
 * Feed at which the mill chokes with this fan: more feed takes air away, so it is less than at held air. Bracketed to 1 %
 * by solving the point again at other feed rates.
 *
 * @param state steady or choked, with the feed at which it chokes at the air it has
 * @param flow air flow of that state [m³/s]
 * @returns [kg/s]; where a thousandth of the feed still chokes, that
 */
function feedAtChoke(c: Case, plant: Plant, state: State, flow: number): number {
  const kept: Kept = {};
  // more feed takes air away: the answer for more lies below the one at hand
  const top = state.status === 'steady' ? flow * (1 + CLOSE) : freeFlowAtInlet(c, plant);
  const chokes = (feedRate: number) => {
    const there = { ...c, settings: { ...c.settings, feedRate } };
    return solve(supplyFor(there, plant, kept, top), { kept, choke: false }).status === 'choked';
  };
  const { feedRate } = c.settings;
  const steady = state.status === 'steady';
  // air only falls as feed rises, so the choke at held air lies above the one with the fan
  const high0 = steady ? Math.max(state.feedAtChoke, feedRate) : feedRate;
  let [low, high] = [steady ? feedRate : feedRate / CHOKE_STEP, high0];
  while (!steady && low > feedRate / MOST_TIMES && chokes(low)) [low, high] = [low / CHOKE_STEP, low];
  const runs = (feedRate: number) => !chokes(feedRate);
  const left = bracket(runs, low, high, { within: CHOKE_WITHIN, byRatio: true });
  return Math.sqrt(left.holds * left.fails);
}

/** Air flow at the inlet state [m³/s]. */
export function inletFlow(c: Case): number {
  const { massFlow, density } = inletAir(c.air);
  return massFlow / density;
}

function descend(look: (flow: number) => Look, top: number): Look {
  let above = look(top);
  let choked: Look | undefined;
  const lowest = () => Math.max(LOWEST * top, LOWEST_CHOKED * (choked?.flow ?? 0));
  for (let step = 0; step < MOST_LOOKS && above.flow > lowest(); step++) {
    if (Math.abs(above.excess) < AGREED) return above;
    const blind = Number.isNaN(above.excess);
    if (above.state.status === 'choked') choked ??= above;
    const next = look(above.flow * Math.exp(blind ? BLIND_STEP : reachOf(above.excess)));
    if (next.excess >= 0) return blind ? next : close(look, next, above);
    above = next;
  }
  return choked ?? above;
}

/** How far down in ln Q: to where the loss ∝ Q² meets the curve, never far at once; close by, a little beyond. */
function reachOf(excess: number): number {
  return excess > -CLOSE ? 1.5 * excess - 1e-9 : Math.max(LONGEST_STEP, excess);
}

/** False position in ln Q with the Illinois weight, between a flow with too much fan and one with too little. */
function close(look: (flow: number) => Look, below: Look, above: Look): Look {
  let [low, high] = [below, above];
  let [weightLow, weightHigh] = [low.excess, high.excess];
  let last: Look | undefined;
  for (let step = 0; step < MOST_LOOKS; step++) {
    const share = weightLow / (weightLow - weightHigh);
    const next = look(low.flow * (high.flow / low.flow) ** share);
    if (!(Math.abs(next.excess) >= AGREED)) return next;
    if (next.excess > 0) {
      // an end that stays twice gives half its weight away, or the other would only creep
      if (last === low) weightHigh /= 2;
      low = next;
      weightLow = next.excess;
    } else {
      if (last === high) weightLow /= 2;
      high = next;
      weightHigh = next.excess;
    }
    last = next;
    if (high.flow - low.flow < AGREED * high.flow) return next;
  }
  return low;
}

function lookAt(c: Case, plant: Plant, design: number, flow: number, kept: Kept): Look {
  const there: Case = { ...c, air: { ...c.air, flow, flowState: 'inlet' } };
  const state = solve(there, { kept, choke: false });
  const excess =
    state.status === 'choked' ? Number.NaN : excessOf(plant, flow, march(there, state, plant, design));
  return { flow, case: there, state, excess };
}

/** ln(flow given/flow), the plant's loss following the square of the flow. */
function excessOf({ fan }: Plant, flow: number, { fanInlet, riseNeeded }: March): number {
  const density = densityOf(fanInlet);
  const through = volumeFlow(fanInlet);
  if (!(fanInlet.pressure > 0 && riseNeeded > 0 && through > 0)) return Number.NaN;
  const speed = fan!.speed as number;
  const short = (factor: number) =>
    fanPressure(fan!, speed, factor * through, density) < riseNeeded * factor * factor;
  const most = Math.max(1, (FAN_CURVES[fan!.law]!.freeFlow(fan!) * speed) / through);
  return flow > 0 ? Math.log(middleOf(bracket((factor) => !short(factor), 0, most))) : Number.NaN;
}

/** The fan's free flow as if all of it were drawn in at the inlet state [m³/s]. */
function freeFlowAtInlet(c: Case, plant: Plant): number {
  const fan = plant.fan!;
  return Math.min(
    FAN_CURVES[fan.law]!.freeFlow(fan) * (fan.speed as number),
    MOST_OVER_DESIGN * inletFlow(c),
  );
}

/** The descent starts no higher than this over the air flow set [-]: far above it the plant would lose all pressure. */
const MOST_OVER_DESIGN = 3;
