import { solve } from '../model/loop/solve.ts';
import { runInTime, settlingTime, spreadAfter, type TimeSeries } from '../model/time/run.ts';
import { type FeedEvent, feedInTime } from '../plant/feed-in-time.ts';
import { feeder } from '../plant/feeder.ts';
import { filled, plantFrom, type StatedPlant } from '../plant/presets.ts';
import { loadScenario } from '../scenario/load.ts';
import { toCase } from '../scenario/point.ts';
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
  readonly spread: { readonly x50: Spread; readonly x95: Spread; readonly feedRate: Spread };
  readonly choked: boolean;
}
type Spread = { readonly mean: number; readonly deviation: number };

/** Runs the scenario's `time:` block; the settling times come from the same run without noise. */
export function timeOf(scenario: Scenario, quiet: boolean): TimeResult {
  const c = toCase(scenario);
  const block = scenario.blocks.time ?? {};
  const plan = filled(TIME_NUMBERS, block) as Record<
    'duration' | 'step' | 'sampleLag' | 'casingTime' | 'seed',
    number
  >;
  const events = ((block.events ?? []) as readonly { at: number; feedRate: number }[]).map((event) => ({
    at: event.at,
    rate: event.feedRate,
  }));
  const plant = plantFrom(scenario.blocks.plant as StatedPlant | undefined);
  const wander = feeder(plant.feeder, c.settings.feedRate).wander;
  const still = { ...wander, noise: 0, drift: 0, pulsation: 0, refill: { ...wander.refill, error: 0 } };
  const every = Math.max(1, Math.round(plan.duration / plan.step / 1200));
  const grid = solve(c, { choke: false }).grid;
  const run = (kind: typeof wander) =>
    runInTime(c, {
      ...plan,
      every,
      grid,
      feedRate: feedInTime(c.settings.feedRate, events, kind, plan.step, plan.seed),
    });
  const calm = run(still);
  const series = quiet ? calm : run(wander);
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
    spread: { x50: after(series.sampleX50), x95: after(series.sampleX95), feedRate: after(series.feedRate) },
    choked: Number.isFinite(series.chokedAt),
  };
}

const MICRO = 1e6;
const HOUR = 3600;

function asJson({ series, settled, spread, choked }: TimeResult) {
  const scaled = (values: readonly number[], factor: number, offset = 0) =>
    values.map((v) => v * factor + offset);
  return {
    settled: settled.map(({ from, mill, sample }) => ({ from_s: from, mill_s: mill, sample_s: sample })),
    spread: {
      sampleX50_um: { mean: spread.x50.mean * MICRO, deviation: spread.x50.deviation * MICRO },
      sampleX95_um: { mean: spread.x95.mean * MICRO, deviation: spread.x95.deviation * MICRO },
      feedRate_kg_per_h: { mean: spread.feedRate.mean * HOUR, deviation: spread.feedRate.deviation * HOUR },
    },
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
  };
}

function asText(scenario: Scenario, result: TimeResult): string {
  const { series, settled, spread, choked } = result;
  const [start] = settled;
  const lines = [scenario.title, ''];
  if (choked) lines.push(`The mill passes its load limit ${n(series.chokedAt)} s after start: it chokes.`);
  else if (scenario.calibration) lines.push('With the calibrated model:');
  else lines.push('Uncalibrated estimate, for planning a first trial:');
  if (!choked) {
    lines.push(
      `the mill itself settles in ${n(start!.mill)} s after start, a sample behind duct and cyclone in ${n(start!.sample)} s: sample from ${n(Math.ceil(start!.sample / 30) * 0.5)} min on.`,
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
