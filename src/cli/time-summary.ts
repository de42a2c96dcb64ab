import { openingOf } from '../answers/verdict-words.ts';
import type { TimeSeries } from '../model/time/run.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber as n } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';
import { type Spread, type TimeResult, WARM } from './time-run.ts';

/** Most rows printed. */
const ROWS = 24;

const MICRO = 1e6;
const HOUR = 3600;

/** `time --json`. */
export function timeJson({ series, settled, spread, warm, coldShift, choked }: TimeResult) {
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
    coldShiftOfX95: coldShift,
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

/** One screen about a run in time: the answer first. */
export function timeText(scenario: Scenario, result: TimeResult): string {
  const { series, settled, spread, warm, coldShift, choked } = result;
  const [start] = settled;
  const lines = [scenario.title, ''];
  if (choked) lines.push(`The mill passes its load limit ${n(series.chokedAt)} s after start: it chokes.`);
  else lines.push(openingOf(scenario));
  if (!choked) {
    lines.push(
      `the mill itself settles in ${n(start!.mill)} s after start, ${sampleInWords(start!.sample)}.`,
    );
    lines.push(warmInWords(warm, coldShift));
    for (const { from, mill, sample } of settled.slice(1)) {
      if (result.events.some(({ at, rate }) => at === from && rate === 0)) {
        lines.push(
          `Feed stopped at ${n(from / 60)} min: 99 % of the hold-up is ground out ${n(emptyAfter(series, from))} s later. Rotor and wheel still turn.`,
        );
        continue;
      }
      lines.push(
        `After the change at ${n(from / 60)} min the mill settles in ${n(mill)} s, ${sampleInWords(sample)}.`,
      );
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

/** When a sample is worth taking, counted from the last change. */
function sampleInWords(seconds: number): string {
  if (Number.isNaN(seconds)) return 'a sample later than the time looked at: make time.duration longer';
  return `a sample behind duct and cyclone in ${n(seconds, 3)} s: sample from ${n(Math.ceil(seconds / 30) * 0.5)} min on`;
}

/** How long the mill warms up, and what that may do to the product. */
function warmInWords(warm: number, shift: number): string {
  const time = `The outlet temperature needs ${n(warm / 60, 2)} min to come within ${WARM} K of where it ends`;
  if (Number.isNaN(shift)) return `${time}; a cold mill would choke.`;
  const share = `${n(100 * Math.abs(shift), 2)} % ${shift < 0 ? 'finer' : 'coarser'}`;
  return `${time}; a mill still cold makes x95 up to ${share}.`;
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
const CAUTION = `Lags behind the mill are assumed. ${SAFETY_CAUTION}`;

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
