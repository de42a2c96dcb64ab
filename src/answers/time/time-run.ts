import type { Case } from '../../model/case.ts';
import { solve } from '../../model/loop/solve.ts';
import { sizeAt } from '../../model/psd/curve.ts';
import { runInTime, settlingTime, spreadAfter, type TimeSeries } from '../../model/time/run.ts';
import { fanDecides, solveWithFan } from '../../plant/fan-operating-point.ts';
import { type FeedEvent, type FeederInTime, feedersInTime } from '../../plant/feed-in-time.ts';
import { type FeedWander, feeder } from '../../plant/feeder.ts';
import type { Plant } from '../../plant/plant.ts';
import { filled, plantFrom, type StatedPlant } from '../../plant/presets.ts';
import { InputError } from '../../scenario/errors.ts';
import { type SitedCase, toCase } from '../../scenario/operating-point.ts';
import { productCurve } from '../../scenario/outcome/solved.ts';
import { TIME_NUMBERS } from '../../scenario/read/plant-and-time-blocks.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatQuantity } from '../../scenario/units/display.ts';

/** A sample is good once x50 and x95 stay within this of where they end. */
const SETTLED = 0.02;
/** What a run in time shows. */
export interface TimeResult {
  readonly series: TimeSeries;
  readonly events: readonly FeedEvent[];
  /** After start, and after each event: when mill and sample have settled [s]. */
  readonly settled: readonly { readonly from: number; readonly mill: number; readonly sample: number }[];
  readonly spread: {
    readonly x50: Spread;
    readonly x95: Spread;
    readonly feedRate: Spread;
    /** Share of the first component, where two feeders run in ratio: as fed, behind the mill, in a sample. */
    readonly shares?: { readonly feed: Spread; readonly mill: Spread; readonly sample: Spread };
  };
  /** When the outlet temperature is within 1 K of where it ends [s]. */
  readonly warm: number;
  /** How far x95 of a mill whose air leaves as cold as it enters differs from the warm mill's, relative; NaN if it chokes. */
  readonly coldShift: number;
  readonly choked: boolean;
}
export type Spread = { readonly mean: number; readonly deviation: number };

/** Numbers of the `time:` block, SI. */
type Plan = Record<'duration' | 'step' | 'sampleLag' | 'casingTime' | 'seed', number>;

/** Rows kept of a run, about. */
const ROWS = 1200;

/** Runs the scenario's `time:` block; the settling times come from the same run without noise. */
export function timeOf(scenario: Scenario, quiet: boolean): TimeResult {
  const c = supplied(toCase(scenario));
  const block = scenario.blocks.time ?? {};
  const plan = filled(TIME_NUMBERS, block) as Plan;
  refuseTooMany(plan);
  const events = ((block.events ?? []) as readonly { at: number; feedRate: number }[])
    .map(({ at, feedRate }) => ({ at, rate: feedRate }))
    .sort((a, b) => a.at - b.at);
  const feeders = feedersOf(c, plantFrom(scenario.blocks.plant as StatedPlant | undefined));
  const still = feeders.map(({ share, wander }) => ({ share, wander: stillOf(wander) }));
  const calm = runWith(c, plan, events, still);
  const series = quiet ? calm : runWith(c, plan, events, feeders);
  return {
    series,
    events,
    settled: settledAfter([0, ...events.map(({ at }) => at)], calm, plan),
    spread: spreadOf(series, events, plan, feeders.length > 1),
    warm: warmingTime(c, plan.casingTime),
    coldShift: coldShift(c),
    choked: Number.isFinite(series.chokedAt),
  };
}

/** Steps of a run: more take more than some seconds, and show no more. */
const MOST_STEPS = 100_000;

function refuseTooMany({ duration, step }: Plan): void {
  const steps = Math.ceil(duration / step);
  if (steps <= MOST_STEPS) return;
  const least = formatQuantity(duration / MOST_STEPS, 's', 2);
  const message = `gives ${steps} steps over ${formatQuantity(duration, 'min', 3)}, at most ${MOST_STEPS} are taken; make it ${least} or more, or look at a shorter time`;
  throw new InputError([{ place: 'time.step', message }]);
}

function runWith(
  c: Case,
  plan: Plan,
  events: readonly FeedEvent[],
  feeders: readonly FeederInTime[],
): TimeSeries {
  const rates = feedersInTime(c.settings.feedRate, events, feeders, plan.step, plan.seed);
  const rest = 1 - c.components[0]!.share;
  const feedRate = (time: number, component: number): number => {
    const { share } = c.components[component]!;
    if (feeders.length === 1) return share * rates(time, 0);
    return component === 0 ? rates(time, 0) : (share / rest) * rates(time, 1);
  };
  const every = Math.max(1, Math.round(plan.duration / plan.step / ROWS));
  return runInTime(c, { ...plan, every, grid: solve(c, { choke: false }).grid, feedRate });
}

/** A sample's lag has to pass this often before its end can be read off a run: e⁻⁴ is below the band. */
const LAGS = 4;

/** When mill and sample have settled after each start; NaN where the run is too short behind it to tell. */
function settledAfter(starts: readonly number[], calm: TimeSeries, plan: Plan): TimeResult['settled'] {
  return starts.map((from, k) => {
    const until = starts[k + 1] ?? Number.POSITIVE_INFINITY;
    const inside = calm.time.map((t, i) => (t >= from && t < until ? i : -1)).filter((i) => i >= 0);
    const cut = (values: readonly number[]) => inside.map((i) => values[i]!);
    const times = cut(calm.time);
    const slowest = (...all: readonly (readonly number[])[]) =>
      Math.max(...all.map((values) => settlingTime(times, cut(values), SETTLED, from)));
    const long = Math.min(until, plan.duration) - from >= LAGS * plan.sampleLag;
    return {
      from,
      mill: slowest(calm.x50, calm.x95, calm.productRate),
      // what comes out must be the new product, not only look like it: the line's own content has to be through
      sample: long ? slowest(calm.sampleX50, calm.sampleX95, calm.sampleRate) : Number.NaN,
    };
  });
}

/** Spread from sample to sample while the mill is fed, once the last change before a trip has worn off. */
function spreadOf(
  series: TimeSeries,
  events: readonly FeedEvent[],
  plan: Plan,
  inRatio: boolean,
): TimeResult['spread'] {
  const trip = events.find(({ rate }) => rate === 0)?.at ?? Number.POSITIVE_INFINITY;
  const fed = [0, ...events.map(({ at }) => at)].filter((from) => from < trip).at(-1)!;
  const steadyFrom = fed + Math.min((Math.min(trip, plan.duration) - fed) / 2, 5 * plan.sampleLag);
  const after = (values: readonly number[]) =>
    spreadAfter(
      series.time,
      values.map((value, i) => (series.time[i]! < trip ? value : Number.NaN)),
      steadyFrom,
    );
  const shares = () => ({
    feed: after(series.feedShare),
    mill: after(series.share),
    sample: after(series.sampleShare),
  });
  return {
    x50: after(series.sampleX50),
    x95: after(series.sampleX95),
    feedRate: after(series.feedRate),
    ...(inRatio ? { shares: shares() } : {}),
  };
}

/** Outlet air within this of where it ends counts as warm [K]. */
export const WARM = 1;

/** τ_c ln(ΔT/1 K) with ΔT the rise at the steady state: a first-order lag from the inlet temperature (`derived`). */
function warmingTime(c: Case, casingTime: number): number {
  const state = solve(c, { choke: false });
  if (state.status === 'choked') return Number.NaN;
  const rise = Math.abs(state.conditions.temperature - c.air.temperature);
  return casingTime * Math.log(Math.max(1, rise / WARM));
}

/** A casing that takes up all heat keeps the air at its inlet temperature [W/K]. */
const ALL_HEAT = 1e12;

/** The most that warming up can move x95: the product at inlet temperature against the warm mill's. */
function coldShift(c: Case): number {
  const x95 = (casingLoss: number): number => {
    const state = solve({ ...c, loop: { ...c.loop, casingLoss } }, { choke: false });
    return state.status === 'choked' ? Number.NaN : sizeAt(productCurve(state), 0.95);
  };
  return x95(ALL_HEAT) / x95(c.loop.casingLoss) - 1;
}

/** The point with the air its fan gives at the steady state; held from then on. */
function supplied(c: SitedCase): SitedCase {
  return c.plant && fanDecides(c.plant) ? { ...c, ...solveWithFan(c, c.plant, { choke: false }).case } : c;
}

/** The feeders of a point: one for all components, or a second one for all but the first. */
function feedersOf(c: SitedCase, plant: Plant): FeederInTime[] {
  const { feedRate } = c.settings;
  const { share } = c.components[0]!;
  if (!plant.secondFeeder || c.components.length < 2)
    return [{ share: 1, wander: feeder(plant.feeder, feedRate).wander }];
  return [
    { share, wander: feeder(plant.feeder, share * feedRate).wander },
    { share: 1 - share, wander: feeder(plant.secondFeeder, (1 - share) * feedRate).wander },
  ];
}

/** A feeder that holds its rate exactly. */
function stillOf(wander: FeedWander): FeedWander {
  return { ...wander, noise: 0, drift: 0, pulsation: 0, refill: { ...wander.refill, error: 0 } };
}
