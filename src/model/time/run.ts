import type { Case } from '../case.ts';
import { fillUndersize } from '../loop/balance.ts';
import { fillSlopes, sizeAt } from '../psd/curve.ts';
import type { Grid } from '../psd/grid.ts';
import { lagged } from './noise.ts';
import { advance, circulatingOf, emptyState } from './step.ts';
import { type FeedInTime, millInTime } from './system.ts';

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
  /** Thermal time of the casing [s]. */
  readonly casingTime: number;
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
  /** Air at the outlet, behind the casing's lag [K]. */
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
 * Runs a mill in time from empty (eq. 27), with separate first-order lags of the sample and of the casing.
 *
 * @param c operating point
 * @param plan duration, step, feed against time, lags
 */
export function runInTime(c: Case, plan: TimePlan): TimeSeries {
  const mill = millInTime(c, plan.feedRate);
  const state = emptyState(mill);
  const n = plan.grid.classes;
  const product = new Float64Array(n);
  const sample = new Float64Array(n);
  const first = { rate: 0, sample: 0 };
  const reader = percentileReader(plan.grid);
  const rows = emptyRows();
  let warmth = c.air.temperature;
  let chokedAt = Number.NaN;
  const steps = Math.max(1, Math.round(plan.duration / plan.step));
  for (let i = 0; i <= steps; i++) {
    const time = i * plan.step;
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
      warmth = lagged(warmth, now.temperature, plan.step, plan.casingTime);
    }
    if (Number.isNaN(chokedAt) && now.loading > c.loop.chokeLoad) chokedAt = time;
    if (i % plan.every === 0) {
      rows.time.push(time);
      rows.feedRate.push(feed);
      rows.x50.push(reader(product, 0.5));
      rows.x95.push(reader(product, 0.95));
      rows.sampleX50.push(reader(sample, 0.5));
      rows.sampleX95.push(reader(sample, 0.95));
      const rate = product.reduce((sum, p) => sum + p, 0);
      const sampled = sample.reduce((sum, p) => sum + p, 0);
      rows.productRate.push(rate);
      rows.sampleRate.push(sampled);
      rows.feedShare.push(feeds[0]! / feed);
      rows.share.push(first.rate / rate);
      rows.sampleShare.push(first.sample / sampled);
      rows.holdup.push(circulating * c.loop.loopTime);
      rows.rotorPower.push(now.rotorPower);
      rows.temperature.push(warmth);
      rows.loading.push(now.loading);
    }
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
    loading: column(),
    feedShare: column(),
    share: column(),
    sampleShare: column(),
  };
}

/** Percentile of masses by class; NaN where there are none. */
function percentileReader(grid: Grid): (masses: Float64Array, share: number) => number {
  const undersize = new Float64Array(grid.edges.length);
  const slopes = new Float64Array(grid.edges.length);
  return (masses, share) => {
    let total = 0;
    for (let j = 0; j < masses.length; j++) total += masses[j]!;
    if (!(total > 1e-12)) return Number.NaN;
    fillUndersize(masses, undersize);
    fillSlopes(undersize, grid.logRatio, slopes);
    return sizeAt({ edges: grid.edges, undersize, slopes }, share);
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
