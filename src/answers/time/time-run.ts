import type { Case } from '../../model/case.ts';
import { solve } from '../../model/loop/solve.ts';
import { sizeAt } from '../../model/psd/curve.ts';
import { type Casing, warmAfter, warmUp } from '../../model/time/casing.ts';
import { type Masses, massesBetween } from '../../model/time/off-spec.ts';
import {
  runInTime,
  settlingTime,
  spreadAfter,
  type TimePlan,
  type TimeSeries,
} from '../../model/time/run-in-time.ts';
import { fanDecides, solveWithFan } from '../../plant/fan-operating-point.ts';
import { type FeedEvent, type FeederInTime, feedersInTime } from '../../plant/feed-in-time.ts';
import { type FeedWander, feeder } from '../../plant/feeder.ts';
import type { Plant } from '../../plant/plant.ts';
import { filled, plantFrom, type StatedPlant } from '../../plant/presets.ts';
import { casesUnderTrips, type Trip, type TripOf } from '../../plant/trips.ts';
import { casingOfScenario } from '../../scenario/casing-of-scenario.ts';
import { InputError } from '../../scenario/errors.ts';
import { type SitedCase, toCase } from '../../scenario/operating-point.ts';
import { sizeJudge } from '../../scenario/outcome/size-spec.ts';
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
  readonly trips: readonly Trip[];
  readonly casing: Casing;
  /** Share of the temperature rise that shows at once [-]. */
  readonly atOnce: number;
  /** From the start and from each event to the next: fed, product, and product out of specification [kg]. */
  readonly masses: readonly Masses[];
  /** Whether the spec has a requirement on sizes. */
  readonly judged: boolean;
  /** Powder fed before the first good sample [kg]; NaN where the run is too short to tell. */
  readonly fedBeforeSample: number;
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
  /** How far x95 of a mill with a cold casing differs from the warm mill's, relative; NaN if it chokes. */
  readonly coldShift: number;
  readonly choked: boolean;
  /** Where it chokes: up to which feed it would run at the settings of the file, without trips [kg/s]. */
  readonly feedAtChoke?: number;
}
export type Spread = { readonly mean: number; readonly deviation: number };

/** Numbers of the `time:` block, SI. */
type Plan = Record<'duration' | 'step' | 'sampleLag' | 'seed', number> & {
  readonly casingExchange?: number;
  readonly casingHeat?: number;
};

/** Rows kept of a run, about. */
const ROWS = 1200;

/** Runs the scenario's `time:` block; the settling times come from the same run without noise. */
export function timeOf(scenario: Scenario, quiet: boolean): TimeResult {
  const c = supplied(toCase(scenario));
  const block = scenario.blocks.time ?? {};
  const plan = filled(TIME_NUMBERS, block) as Plan;
  refuseTooMany(plan);
  const stated = (block.events ?? []) as unknown as readonly StatedEvent[];
  const { events, trips } = eventsOf(stated);
  const casing = casingOfScenario(scenario, c);
  const inSpec = sizeJudge(scenario.spec);
  const behind: Behind = {
    casing,
    caseAt: casesUnderTrips(c, trips, c.plant?.shafts),
    ...(inSpec ? { inSpec } : {}),
  };
  const feeders = feedersOf(c, plantFrom(scenario.blocks.plant as StatedPlant | undefined));
  const still = feeders.map(({ share, wander }) => ({ share, wander: stillOf(wander) }));
  const calm = runWith(c, plan, events, still, behind);
  const series = quiet ? calm : runWith(c, plan, events, feeders, behind);
  const moments = [0, ...events.map(({ at }) => at), ...trips.map(({ at }) => at)];
  const starts = [...new Set(moments)].sort((a, b) => a - b);
  const settled = settledAfter([0, ...events.map(({ at }) => at)], starts, calm, plan);
  return {
    series,
    events,
    trips,
    casing,
    atOnce: warmUp(c, casing).first,
    masses: starts.map((from, k) => massesBetween(calm, from, starts[k + 1] ?? Number.POSITIVE_INFINITY)),
    judged: inSpec !== undefined,
    fedBeforeSample: Number.isNaN(settled[0]!.sample)
      ? Number.NaN
      : massesBetween(calm, 0, settled[0]!.sample).fed,
    settled,
    spread: spreadOf(series, events, trips, plan, feeders.length > 1),
    warm: warmingTime(c, casing),
    coldShift: coldShift(c, casing),
    choked: Number.isFinite(series.chokedAt),
    ...(Number.isFinite(series.chokedAt) ? { feedAtChoke: solve(c).feedAtChoke } : {}),
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
  behind: Behind,
): TimeSeries {
  const rates = feedersInTime(c.settings.feedRate, events, feeders, plan.step, plan.seed);
  const rest = 1 - c.components[0]!.share;
  const feedRate = (time: number, component: number): number => {
    const { share } = c.components[component]!;
    if (feeders.length === 1) return share * rates(time, 0);
    return component === 0 ? rates(time, 0) : (share / rest) * rates(time, 1);
  };
  const every = Math.max(1, Math.round(plan.duration / plan.step / ROWS));
  return runInTime(c, { ...plan, ...behind, every, grid: solve(c, { choke: false }).grid, feedRate });
}

/** A sample's lag has to pass this often before its end can be read off a run: e⁻⁴ is below the band. */
const LAGS = 4;

/** When mill and sample have settled after each start, looked at until the next moment something changes; NaN where the run is too short behind it to tell. */
function settledAfter(
  starts: readonly number[],
  moments: readonly number[],
  calm: TimeSeries,
  plan: Plan,
): TimeResult['settled'] {
  return starts.map((from) => {
    const until = moments.find((at) => at > from) ?? Number.POSITIVE_INFINITY;
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
  trips: readonly Trip[],
  plan: Plan,
  inRatio: boolean,
): TimeResult['spread'] {
  const stops = [...events.filter(({ rate }) => rate === 0), ...trips];
  const trip = stops.reduce((least, { at }) => Math.min(least, at), Number.POSITIVE_INFINITY);
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

/** When the thermometer of a mill started cold is within 1 K of the steady point [s]. */
function warmingTime(c: Case, casing: Casing): number {
  const state = solve(c, { choke: false });
  if (state.status === 'choked') return Number.NaN;
  return warmAfter(c, state.conditions.temperature - c.air.temperature, WARM, casing);
}

/** How far a cold casing, which takes U_i (T − T_in), moves x95 from the warm mill's. */
function coldShift(c: Case, casing: Casing): number {
  const x95 = (casingLoss: number): number => {
    const state = solve({ ...c, loop: { ...c.loop, casingLoss } }, { choke: false });
    return state.status === 'choked' ? Number.NaN : sizeAt(productCurve(state), 0.95);
  };
  return x95(casing.exchange) / x95(c.loop.casingLoss) - 1;
}

/** An event as the scenario states it: a feed rate, a trip, or both at one time. */
interface StatedEvent {
  readonly at: number;
  readonly feedRate?: number;
  readonly trip?: TripOf;
}

/** Changes of the feed, a feeder's trip among them, and trips of what turns, each in order of time. */
function eventsOf(stated: readonly StatedEvent[]): { readonly events: FeedEvent[]; readonly trips: Trip[] } {
  const inOrder = stated.toSorted((a, b) => a.at - b.at);
  return {
    events: inOrder.flatMap(({ at, feedRate, trip }) => {
      const rate = trip === 'feeder' ? 0 : feedRate;
      return rate === undefined ? [] : [{ at, rate }];
    }),
    trips: inOrder.flatMap(({ at, trip }) => (trip === undefined || trip === 'feeder' ? [] : [{ at, trip }])),
  };
}

/** What a run in time has besides its feed. */
type Behind = Pick<TimePlan, 'casing' | 'caseAt' | 'inSpec'>;

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
