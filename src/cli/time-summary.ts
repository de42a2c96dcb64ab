import type { TimeSeries } from '../model/time/run.ts';
import { SAFETY_CAUTION } from '../plant/safety/checklist.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber as n } from '../scenario/units/display.ts';
import { columnsOf } from './columns.ts';
import { type Spread, type TimeResult, WARM } from './time-run.ts';

/** Most rows printed. */
const ROWS = 24;

/** Masses below this are none: what a mill grinds out never quite ends [kg]. */
const NOTHING = 1e-6;
/** Values of the table below this are shown as 0. */
const LEAST_SHOWN = 1e-4;
/** Masses of powder below a gram are none in a sentence [kg]. */
const LEAST_MASS = 1e-3;
const MICRO = 1e6;
const HOUR = 3600;

/** `time --json`. */
export function timeJson(result: TimeResult) {
  const { series, settled, spread, warm, coldShift, choked, casing, masses, trips } = result;
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
    riseAtOnce: result.atOnce,
    casing: {
      exchange_W_per_K: casing.exchange,
      loss_W_per_K: casing.loss,
      heatCapacity_kJ_per_K: casing.heatCapacity / 1000,
    },
    masses: masses.map(({ from, fed, product, outOfSpec }) => ({
      from_s: from,
      fed_kg: fed,
      product_kg: product,
      outOfSpec_kg: result.judged ? outOfSpec : null,
    })),
    fedBeforeSample_kg: result.fedBeforeSample,
    trips: trips.map(({ at, trip }) => ({ at_s: at, trip })),
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
    holdup_kg: series.holdup.map((mass) => (mass < NOTHING ? 0 : mass)),
    rotorPower_kW: scaled(series.rotorPower, 1e-3),
    outletTemperature_C: scaled(series.temperature, 1, -273.15),
    loading_kg_per_kg: series.loading,
    ...(spread.shares ? { shareOfFirst: series.share, sampleShareOfFirst: series.sampleShare } : {}),
  };
}

/** One screen about a run in time: the answer first. */
export function timeText(scenario: Scenario, result: TimeResult): string {
  const { series, settled, spread, choked } = result;
  const [start] = settled;
  const lines = [scenario.title, ''];
  if (choked) lines.push(chokedInWords(result));
  else if (scenario.calibration) lines.push('With the calibrated model:');
  else lines.push('Uncalibrated estimate, for planning a first trial:');
  if (!choked) {
    lines.push(
      `The mill reaches steady state ${n(start!.mill)} s after the start, ${sampleInWords(start!.sample)}.`,
    );
    lines.push(warmInWords(result));
    lines.push(...powderInWords(scenario, result));
    for (const { from, mill, sample } of settled.slice(1)) {
      if (result.events.some(({ at, rate }) => at === from && rate === 0)) {
        lines.push(
          `Feed stopped at ${n(from / 60)} min: 99 % of the hold-up has left ${n(emptyAfter(series, from))} s later.${turning(result, from)}`,
        );
        continue;
      }
      lines.push(
        `After the change at ${n(from / 60)} min the mill reaches its new steady state in ${n(mill)} s, ${sampleInWords(sample)}.`,
      );
    }
    const percent = ({ mean, deviation }: Spread) => `${n((100 * deviation) / mean, 2)} %`;
    lines.push(
      `Feeder variation of ${percent(spread.feedRate)} gives a spread of ${percent(spread.x50)} in x50 and ${percent(spread.x95)} in x95 from sample to sample.`,
    );
    const { shares } = spread;
    if (shares) {
      const share = ({ mean, deviation }: Spread) => `${n(100 * mean)} ± ${n(100 * deviation, 2)} %`;
      lines.push(
        `Two feeders in ratio: share of ${scenario.components[0]!.material.name} ${share(shares.feed)} as fed, ${share(shares.mill)} behind the mill, ${share(shares.sample)} in a sample (one standard deviation).`,
      );
    }
  }
  lines.push(...tripsInWords(scenario, result));
  lines.push('', columnsOf([HEADS, ...rowsOf(series)]), '', CAUTION, '');
  return lines.join('\n');
}

/** When a sample is worth taking, counted from the last change. */
function sampleInWords(seconds: number): string {
  if (Number.isNaN(seconds)) return 'a sample later than the time looked at: make time.duration longer';
  return `a sample behind duct and cyclone after ${n(seconds, 3)} s: sample from ${n(Math.ceil(seconds / 30) * 0.5)} min on`;
}

/** What the thermometer shows at once, how long the rest takes, and what a cold casing does to the product. */
function warmInWords({ atOnce, warm, coldShift: shift }: TimeResult): string {
  const creep =
    warm > 0
      ? `within ${WARM} K of its steady value after ${n(warm / 60, 2)} min`
      : `within ${WARM} K of its steady value from the start`;
  const shown = `The outlet temperature shows ${n(100 * atOnce, 2)} % of its rise at once and is ${creep}`;
  if (Number.isNaN(shift)) return `${shown}; with a cold casing the mill would choke.`;
  const share = `${n(100 * Math.abs(shift), 2)} % ${shift < 0 ? 'finer' : 'coarser'}`;
  return `${shown}; a cold casing makes x95 ${share}.`;
}

/** How much powder goes before the first good sample, and how much of the product is out of specification. */
function powderInWords(
  { powder }: Scenario,
  { masses, judged, fedBeforeSample, trips, events }: TimeResult,
): string[] {
  const lines: string[] = [];
  const kilograms = (mass: number) => `${n(mass < LEAST_MASS ? 0 : mass, 3)} kg`;
  if (Number.isFinite(fedBeforeSample)) {
    const left = powder && powder.have - powder.reserve;
    const short =
      left !== undefined && fedBeforeSample > left ? `, more than the ${kilograms(left)} available` : '';
    lines.push(`${kilograms(fedBeforeSample)} of powder are fed before the first good sample${short}.`);
  }
  if (!judged)
    return [...lines, 'Product out of specification is not counted: the spec has no requirement on sizes.'];
  const off = masses.map(({ from, outOfSpec, product }) => {
    const trip = trips.find(({ at }) => at === from);
    const stop = events.some(({ at, rate }) => at === from && rate === 0);
    const what =
      from === 0
        ? 'from the start'
        : trip
          ? `after the ${trip.trip} trip at ${n(from / 60)} min`
          : stop
            ? `after the feed stop at ${n(from / 60)} min`
            : `after the change at ${n(from / 60)} min`;
    return `${kilograms(outOfSpec)} of ${kilograms(product)} ${what}`;
  });
  return [...lines, `Product out of specification: ${off.join('; ')}.`];
}

/** A mill without feed is not a mill at rest. */
function turning({ trips }: TimeResult, from: number): string {
  const parts = (['rotor', 'wheel'] as const).filter(
    (part) => !trips.some(({ trip, at }) => trip === part && at <= from),
  );
  return parts.length === 0
    ? ''
    : ` The ${parts.join(' and the ')} still turn${parts.length > 1 ? '' : 's'}.`;
}

/** What a trip means for the run, and what its course relies on. */
function tripsInWords({ blocks }: Scenario, { trips, series }: TimeResult): string[] {
  const shafts = ((blocks.plant as Record<string, unknown> | undefined)?.shafts ?? {}) as Record<
    string,
    unknown
  >;
  const lines = trips.flatMap(({ at, trip }) => {
    if (trip !== 'airlock') return [];
    const rate = series.productRate[series.time.findIndex((time) => time >= at)] ?? 0;
    return [
      `From the airlock trip at ${n(at / 60)} min ${n(rate * HOUR, 3)} kg/h of product collect in the cyclone: stop the feed.`,
    ];
  });
  const unknown = (['rotor', 'wheel'] as const).filter(
    (part) => trips.some(({ trip }) => trip === part) && shafts[`${part}Inertia`] === undefined,
  );
  if (unknown.length > 0)
    lines.push(
      `The coast-down of ${unknown.join(' and ')} is estimated for a steel disc braked by air only; give ${unknown.map((part) => `plant.shafts.${part}Inertia`).join(', ')}. Never open a mill that still turns.`,
    );
  if (trips.some(({ trip }) => trip === 'fan'))
    lines.push('The air is assumed to fall to half in 5 s after a fan trip.');
  return lines;
}

/** When the mill chokes, counted from the trip that led to it where there was one. */
function chokedInWords({ series: { chokedAt }, trips, events }: TimeResult): string {
  const before = trips.filter(({ at }) => at <= chokedAt).at(-1);
  if (!before) return `The mill chokes: it passes its load limit ${n(chokedAt)} s after the start.`;
  const stopped = events.some(({ at, rate }) => rate === 0 && at <= chokedAt);
  const remedy = stopped ? '' : '; stop the feed before that';
  return `The mill chokes ${n(chokedAt - before.at, 2)} s after the ${before.trip} trip at ${n(before.at / 60)} min${remedy}.`;
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
  const shown = (value: number, digits = 3) =>
    Number.isFinite(value) ? n(Math.abs(value) < LEAST_SHOWN ? 0 : value, digits) : '–';
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
