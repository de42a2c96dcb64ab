import type { Case } from '../model/case.ts';
import { solve } from '../model/loop/solve.ts';
import { runInTime, settlingTime, spreadAfter, type TimeSeries } from '../model/time/run.ts';
import { type FeedEvent, type FeederInTime, feedersInTime } from '../plant/feed-in-time.ts';
import { type FeedWander, feeder } from '../plant/feeder.ts';
import type { Plant } from '../plant/plant.ts';
import { filled, plantFrom, type StatedPlant } from '../plant/presets.ts';
import { fanDecides, solveWithFan } from '../plant/supply.ts';
import { loadScenario } from '../scenario/load.ts';
import { type SitedCase, toCase } from '../scenario/point.ts';
import { TIME_NUMBERS } from '../scenario/read/around.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber as n } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';
import { type Command, EXIT } from './command.ts';

/** A sample is good once x50 and x95 stay within this of where they end. */
const SETTLED = 0.02;
/** Most rows printed. */
const ROWS = 24;

/** `time FILE`: the same balance against time. */
export const time: Command = {
  usage: 'time <file>',
  summary: 'start-up, steps and feeder noise against time; when a sample is worth taking',
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario', demandOption: true })
      .option('json', { type: 'boolean', default: false, describe: 'print every row as JSON' })
      .option('quiet-feeder', {
        type: 'boolean',
        default: false,
        describe: 'hold the feed exactly: no noise',
      })
      .option('set', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'change a value, e.g. --set time.duration="30 min" (repeatable)',
      }),
  run: async (options) => {
    const scenario = await loadScenario(String(options.file), { set: options.set as string[] });
    const result = timeOf(scenario, options['quiet-feeder'] === true);
    process.stdout.write(
      options.json ? `${JSON.stringify(asJson(result), null, 2)}\n` : asText(scenario, result),
    );
    return result.choked ? EXIT.noAnswer : EXIT.done;
  },
};

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
  readonly choked: boolean;
}
type Spread = { readonly mean: number; readonly deviation: number };

/** Runs the scenario's `time:` block; the settling times come from the same run without noise. */
export function timeOf(scenario: Scenario, quiet: boolean): TimeResult {
  const c = supplied(toCase(scenario));
  const block = scenario.blocks.time ?? {};
  const plan = filled(TIME_NUMBERS, block) as Record<
    'duration' | 'step' | 'sampleLag' | 'casingTime' | 'seed',
    number
  >;
  const events = ((block.events ?? []) as readonly { at: number; feedRate: number }[]).map((event) => ({
    at: event.at,
    rate: event.feedRate,
  }));
  const feeders = feedersOf(c, plantFrom(scenario.blocks.plant as StatedPlant | undefined));
  const every = Math.max(1, Math.round(plan.duration / plan.step / 1200));
  const grid = solve(c, { choke: false }).grid;
  const run = (wandering: boolean) => {
    const used = wandering
      ? feeders
      : feeders.map(({ share, wander }) => ({ share, wander: stillOf(wander) }));
    const rates = feedersInTime(c.settings.feedRate, events, used, plan.step, plan.seed);
    const rest = 1 - c.components[0]!.share;
    const feedRate = (time: number, component: number): number => {
      const { share } = c.components[component]!;
      if (feeders.length === 1) return share * rates(time, 0);
      return component === 0 ? rates(time, 0) : (share / rest) * rates(time, 1);
    };
    return runInTime(c, { ...plan, every, grid, feedRate });
  };
  const calm = run(false);
  const series = quiet ? calm : run(true);
  const starts = [0, ...events.map(({ at }) => at).sort((a, b) => a - b)];
  const settled = starts.map((from, k) => {
    const until = starts[k + 1] ?? Number.POSITIVE_INFINITY;
    const inside = calm.time.map((t, i) => (t >= from && t < until ? i : -1)).filter((i) => i >= 0);
    const cut = (values: readonly number[]) => inside.map((i) => values[i]!);
    const times = cut(calm.time);
    const slowest = (...all: readonly (readonly number[])[]) =>
      Math.max(...all.map((values) => settlingTime(times, cut(values), SETTLED, from)));
    return {
      from,
      mill: slowest(calm.x50, calm.x95, calm.productRate),
      // what comes out must be the new product, not only look like it: the line's own content has to be through
      sample: slowest(calm.sampleX50, calm.sampleX95, calm.sampleRate),
    };
  });
  const trip = events.find(({ rate }) => rate === 0)?.at ?? Number.POSITIVE_INFINITY;
  const fed = starts.filter((from) => from < trip).at(-1)!;
  const steadyFrom = fed + Math.min((Math.min(trip, plan.duration) - fed) / 2, 5 * plan.sampleLag);
  const after = (values: readonly number[]) =>
    spreadAfter(
      series.time,
      values.map((value, i) => (series.time[i]! < trip ? value : Number.NaN)),
      steadyFrom,
    );
  return {
    series,
    events,
    settled,
    spread: {
      x50: after(series.sampleX50),
      x95: after(series.sampleX95),
      feedRate: after(series.feedRate),
      ...(feeders.length > 1
        ? {
            shares: {
              feed: after(series.feedShare),
              mill: after(series.share),
              sample: after(series.sampleShare),
            },
          }
        : {}),
    },
    warm: warmingTime(c, plan.casingTime),
    choked: Number.isFinite(series.chokedAt),
  };
}

/** Outlet air within this of where it ends counts as warm [K]. */
const WARM = 1;

/** τ_c ln(ΔT/1 K) with ΔT the rise at the steady state: a first-order lag from the inlet temperature (`derived`). */
function warmingTime(c: Case, casingTime: number): number {
  const state = solve(c, { choke: false });
  if (state.status === 'choked') return Number.NaN;
  const rise = Math.abs(state.conditions.temperature - c.air.temperature);
  return casingTime * Math.log(Math.max(1, rise / WARM));
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

const MICRO = 1e6;
const HOUR = 3600;

function asJson({ series, settled, spread, warm, choked }: TimeResult) {
  const scaled = (values: readonly number[], factor: number, offset = 0) =>
    values.map((v) => v * factor + offset);
  return {
    settled: settled.map(({ from, mill, sample }) => ({ from_s: from, mill_s: mill, sample_s: sample })),
    spread: {
      sampleX50_um: { mean: spread.x50.mean * MICRO, deviation: spread.x50.deviation * MICRO },
      sampleX95_um: { mean: spread.x95.mean * MICRO, deviation: spread.x95.deviation * MICRO },
      feedRate_kg_per_h: { mean: spread.feedRate.mean * HOUR, deviation: spread.feedRate.deviation * HOUR },
      ...(spread.shares ? { shareOfFirst: spread.shares } : {}),
    },
    warm_s: warm,
    choked,
    chokedAt_s: series.chokedAt,
    time_s: series.time,
    feedRate_kg_per_h: scaled(series.feedRate, HOUR),
    x50_um: scaled(series.x50, MICRO),
    x95_um: scaled(series.x95, MICRO),
    sampleX50_um: scaled(series.sampleX50, MICRO),
    sampleX95_um: scaled(series.sampleX95, MICRO),
    productRate_kg_per_h: scaled(series.productRate, HOUR),
    sampleRate_kg_per_h: scaled(series.sampleRate, HOUR),
    holdup_kg: series.holdup,
    rotorPower_kW: scaled(series.rotorPower, 1e-3),
    outletTemperature_C: scaled(series.temperature, 1, -273.15),
    loading_kg_per_kg: series.loading,
    ...(spread.shares ? { shareOfFirst: series.share, sampleShareOfFirst: series.sampleShare } : {}),
  };
}

function asText(scenario: Scenario, result: TimeResult): string {
  const { series, settled, spread, warm, choked } = result;
  const [start] = settled;
  const lines = [scenario.title, ''];
  if (choked) lines.push(`The mill passes its load limit ${n(series.chokedAt)} s after start: it chokes.`);
  else if (scenario.calibration) lines.push('With the calibrated model:');
  else lines.push('Uncalibrated estimate, for planning a first trial:');
  if (!choked) {
    lines.push(
      `the mill itself settles in ${n(start!.mill)} s after start, a sample behind duct and cyclone in ${n(start!.sample)} s: sample from ${n(Math.ceil(start!.sample / 30) * 0.5)} min on.`,
    );
    lines.push(
      `The outlet temperature needs ${n(warm / 60, 2)} min to come within ${WARM} K of where it ends; until then the mill is colder than this says.`,
    );
    for (const { from, mill, sample } of settled.slice(1)) {
      if (result.events.some(({ at, rate }) => at === from && rate === 0)) {
        lines.push(
          `Feed stopped at ${n(from / 60)} min: 99 % of the hold-up is ground out ${n(emptyAfter(series, from))} s later. Rotor and wheel still turn.`,
        );
        continue;
      }
      lines.push(`After the change at ${n(from / 60)} min: mill ${n(mill)} s, sample ${n(sample)} s.`);
    }
    const percent = ({ mean, deviation }: Spread) => `${n((100 * deviation) / mean)} %`;
    lines.push(
      `Feeder noise of ${percent(spread.feedRate)} gives a spread of ${percent(spread.x50)} in x50 and ${percent(spread.x95)} in x95 from sample to sample.`,
    );
    const { shares } = spread;
    if (shares) {
      const share = ({ mean, deviation }: Spread) => `${n(100 * mean)} ± ${n(100 * deviation, 2)} %`;
      lines.push(
        `Two feeders in ratio: share of ${scenario.components[0]!.material.name} ${share(shares.feed)} as fed, ${share(shares.mill)} behind the mill, ${share(shares.sample)} in a sample (one standard deviation).`,
      );
    }
  }
  lines.push('', columnsOf([HEADS, ...rowsOf(series)]), '', CAUTION, '');
  return lines.join('\n');
}

/** Time after a trip until 1 % of the hold-up is left [s]. */
function emptyAfter({ time, holdup }: TimeSeries, from: number): number {
  const start = time.findIndex((t) => t >= from);
  const end = holdup.findIndex((mass, i) => i > start && mass < 0.01 * holdup[Math.max(0, start - 1)]!);
  return end < 0 ? Number.NaN : time[end]! - from;
}

const HEADS = [
  'time min',
  'feed kg/h',
  'x50 µm',
  'x95 µm',
  'sample x95 µm',
  'hold-up kg',
  'rotor kW',
  'outlet °C',
];
const CAUTION =
  'Lags behind the mill are assumed. Screening only: a mill that chokes, trips or fills with dust is dangerous; local codes and licensed practice decide.';

function rowsOf(series: TimeSeries): string[][] {
  const every = Math.max(1, Math.ceil(series.time.length / ROWS));
  const shown = (value: number, digits = 3) => (Number.isFinite(value) ? n(value, digits) : '–');
  return series.time.flatMap((t, i) =>
    i % every === 0 || i === series.time.length - 1
      ? [
          [
            shown(t / 60),
            shown(series.feedRate[i]! * HOUR),
            shown(series.x50[i]! * MICRO),
            shown(series.x95[i]! * MICRO),
            shown(series.sampleX95[i]! * MICRO),
            shown(series.holdup[i]!),
            shown(series.rotorPower[i]! / 1000),
            shown(series.temperature[i]! - 273.15),
          ],
        ]
      : [],
  );
}
