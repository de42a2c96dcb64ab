import type { Case } from '../case.ts';
import { fillUndersize } from '../loop/mass-balance.ts';
import { fillSlopes, type SizeCurve, sizeAt } from '../psd/curve.ts';
import type { Grid } from '../psd/grid.ts';
import { type Casing, casingAfter } from './casing.ts';
import { lagged } from './noise.ts';
import { type FeedInTime, millInTime } from './system.ts';
import { advance, circulatingOf, emptyState } from './time-step.ts';

/** Product rate below which there is nothing to read a size off [kg/s]. */
const LEAST_RATE = 1e-9;

/** How long, how finely, and what lies behind the mill. */
export interface TimePlan {
  /** [s] */
  readonly duration: number;
  /** Δt [s]. */
  readonly step: number;
  /** F_k(t) [kg/s]; held over each step. */
  readonly feedRate: FeedInTime;
  /** Lag of what is sampled: ducts, cyclone, wall coating [s]. */
  readonly sampleLag: number;
  /** The casing that warms up; without one all heat is in the air and the powder. */
  readonly casing?: Casing;
  /** Speeds and air against time, the same object as long as nothing changes; those of the case where absent. */
  readonly caseAt?: (time: number) => Case;
  /** Whether what leaves the wheel at a moment is in specification. */
  readonly inSpec?: (curve: SizeCurve) => boolean;
  /** Steps between two rows kept. */
  readonly every: number;
  readonly grid: Grid;
}

/** What is read against time; one array a quantity, SI. */
export interface TimeSeries {
  readonly time: readonly number[];
  readonly feedRate: readonly number[];
  /** Of what leaves the wheel at this moment, and of a sample taken now [m]; NaN before anything leaves. */
  readonly x50: readonly number[];
  readonly x95: readonly number[];
  readonly sampleX50: readonly number[];
  readonly sampleX95: readonly number[];
  readonly productRate: readonly number[];
  /** Rate at which product comes out behind the sample's lag [kg/s]. */
  readonly sampleRate: readonly number[];
  /** [kg] */
  readonly holdup: readonly number[];
  /** [W] */
  readonly rotorPower: readonly number[];
  /** Whether what leaves the wheel is in specification; all true without one. */
  readonly inSpec: readonly boolean[];
  /** The same of a sample taken now, which still holds what was made before. */
  readonly sampleInSpec: readonly boolean[];
  /** Air and product at the outlet [K]. */
  readonly temperature: readonly number[];
  /** λ [-]. */
  readonly loading: readonly number[];
  /** Share of the first component in the feed, in what leaves the wheel and in a sample; NaN where nothing is [-]. */
  readonly feedShare: readonly number[];
  readonly share: readonly number[];
  readonly sampleShare: readonly number[];
  /** When λ_max was first passed [s]; NaN where it never was. */
  readonly chokedAt: number;
}

/**
 * Runs a mill in time from empty and cold (eq. 27, 28), with a first-order lag of the sample. The same temperature is read
 * at the outlet and drives cut and hits.
 *
 * @param c operating point
 * @param plan duration, step, feed against time, lag, casing
 */
export function runInTime(c: Case, plan: TimePlan): TimeSeries {
  const mill = millInTime(c, plan.feedRate, plan.casing?.exchange);
  const state = emptyState(mill);
  const n = plan.grid.classes;
  const product = new Float64Array(n);
  const sample = new Float64Array(n);
  const first = { rate: 0, sample: 0 };
  const reader = curveReader(plan.grid);
  const rows = emptyRows();
  let warmth = c.air.temperature;
  let chokedAt = Number.NaN;
  let settings = c;
  const steps = Math.max(1, Math.round(plan.duration / plan.step));
  for (let i = 0; i <= steps; i++) {
    const time = i * plan.step;
    const present = plan.caseAt?.(time) ?? c;
    if (present !== settings) mill.takeSettings(present);
    settings = present;
    mill.takeCasing(warmth);
    const circulating = circulatingOf(state.arriving);
    const feeds = c.components.map((_, k) => plan.feedRate(time, k));
    const feed = feeds.reduce((sum, rate) => sum + rate, 0);
    mill.setRates(circulating, feed);
    const now = mill.conditions();
    product.fill(0);
    mill.components.forEach(({ leaving }, k) => {
      for (let j = 0; j < n; j++) product[j]! += leaving[j]! * state.arriving[k]![j]!;
      if (k === 0) first.rate = product.reduce((sum, p) => sum + p, 0);
    });
    if (i > 0) {
      for (let j = 0; j < n; j++) sample[j] = lagged(sample[j]!, product[j]!, plan.step, plan.sampleLag);
      first.sample = lagged(first.sample, first.rate, plan.step, plan.sampleLag);
    }
    if (Number.isNaN(chokedAt) && now.loading > c.loop.chokeLoad) chokedAt = time;
    if (i % plan.every === 0) {
      rows.time.push(time);
      rows.feedRate.push(feed);
      rows.x50.push(reader.size(product, 0.5));
      rows.x95.push(reader.size(product, 0.95));
      rows.sampleX50.push(reader.size(sample, 0.5));
      rows.sampleX95.push(reader.size(sample, 0.95));
      const rate = product.reduce((sum, p) => sum + p, 0);
      const sampled = sample.reduce((sum, p) => sum + p, 0);
      rows.productRate.push(rate);
      rows.sampleRate.push(sampled);
      rows.feedShare.push(feeds[0]! / feed);
      rows.share.push(first.rate / rate);
      rows.sampleShare.push(first.sample / sampled);
      rows.holdup.push(circulating * c.loop.loopTime);
      rows.rotorPower.push(now.rotorPower);
      rows.temperature.push(now.temperature);
      rows.inSpec.push(reader.inSpec(product, plan.inSpec));
      rows.sampleInSpec.push(reader.inSpec(sample, plan.inSpec));
      rows.loading.push(now.loading);
    }
    if (plan.casing) warmth = casingAfter(plan.casing, warmth, now.temperature, c.air.temperature, plan.step);
    if (i < steps) advance(mill, state, time, plan.step);
  }
  return { ...rows, chokedAt };
}

function emptyRows() {
  const column = (): number[] => [];
  return {
    time: column(),
    feedRate: column(),
    x50: column(),
    x95: column(),
    sampleX50: column(),
    sampleX95: column(),
    productRate: column(),
    sampleRate: column(),
    holdup: column(),
    rotorPower: column(),
    temperature: column(),
    inSpec: [] as boolean[],
    sampleInSpec: [] as boolean[],
    loading: column(),
    feedShare: column(),
    share: column(),
    sampleShare: column(),
  };
}

/** What is read off masses by class: a percentile, NaN where there are none; whether they are in specification. */
function curveReader(grid: Grid): {
  readonly size: (masses: Float64Array, share: number) => number;
  readonly inSpec: (masses: Float64Array, judge: TimePlan['inSpec']) => boolean;
} {
  const undersize = new Float64Array(grid.edges.length);
  const slopes = new Float64Array(grid.edges.length);
  const curve = { edges: grid.edges, undersize, slopes };
  const fill = (masses: Float64Array): boolean => {
    let total = 0;
    for (let j = 0; j < masses.length; j++) total += masses[j]!;
    if (!(total > LEAST_RATE)) return false;
    fillUndersize(masses, undersize);
    fillSlopes(undersize, grid.logRatio, slopes);
    return true;
  };
  return {
    size: (masses, share) => (fill(masses) ? sizeAt(curve, share) : Number.NaN),
    inSpec: (masses, judge) => judge === undefined || (fill(masses) && judge(curve)),
  };
}

/**
 * When a series last stood further than a band from its final value.
 *
 * @param time [s]
 * @param values any unit
 * @param band relative, e.g. 0.02
 * @param from only times after this count [s]
 * @returns time [s] from `from` on after which it stays inside
 */
export function settlingTime(
  time: readonly number[],
  values: readonly number[],
  band: number,
  from: number,
): number {
  const last = values.at(-1)!;
  for (let i = values.length - 1; i >= 0 && time[i]! >= from; i--) {
    if (!(Math.abs(values[i]! - last) <= band * Math.abs(last))) return (time[i + 1] ?? time[i]!) - from;
  }
  return 0;
}

/** Mean and standard deviation of a series after a time. */
export function spreadAfter(
  time: readonly number[],
  values: readonly number[],
  from: number,
): { readonly mean: number; readonly deviation: number } {
  const kept = values.filter((value, i) => time[i]! >= from && Number.isFinite(value));
  const mean = kept.reduce((sum, value) => sum + value, 0) / kept.length;
  const squares = kept.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, deviation: Math.sqrt(squares / Math.max(1, kept.length - 1)) };
}
