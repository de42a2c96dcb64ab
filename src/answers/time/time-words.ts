import type { TimeSeries } from '../../model/time/run-in-time.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n } from '../../scenario/units/display.ts';
import { label } from '../text.ts';
import { type Spread, type TimeResult, WARM } from './time-run.ts';
import { chokedSentence, powderSentences, tripSentences, turningWords } from './trip-words.ts';

/** Scatter below this is none [%]. */
const LEAST_SCATTER = 0.005;

/** What a run in time shows, in sentences; the first is the answer. */
export function timeSentences(scenario: Scenario, result: TimeResult): string[] {
  const { settled, choked } = result;
  if (choked) return [chokedSentence(result), ...tripSentences(scenario, result)];
  const [start, ...changes] = settled;
  return [
    `the mill reaches steady state ${n(start!.mill, 3)} s after the start, ${sampleWords(start!.sample)}.`,
    warmSentence(result),
    ...powderSentences(scenario, result),
    ...changes.map((change) => changeSentence(change, result)),
    ...spreadSentences(scenario, result),
    ...tripSentences(scenario, result),
  ];
}

function changeSentence({ from, mill, sample }: TimeResult['settled'][number], result: TimeResult): string {
  const { events, series } = result;
  if (events.some(({ at, rate }) => at === from && rate === 0))
    return `Feed stopped at ${n(from / 60)} min: 99 % of the hold-up has left ${n(emptyAfter(series, from), 3)} s later.${turningWords(result, from)}`;
  return `After the change at ${n(from / 60)} min the mill reaches its new steady state in ${n(mill, 3)} s, ${sampleWords(sample)}.`;
}

/** When a sample is worth taking, counted from the last change. */
export function sampleWords(seconds: number): string {
  if (Number.isNaN(seconds)) return 'a sample not within the time computed: make time.duration longer';
  return `a sample behind duct and cyclone after ${n(seconds, 3)} s: sample from ${n(Math.ceil(seconds / 30) * 0.5)} min on`;
}

/** What the thermometer shows at once, how long the rest takes, and what a cold casing does to the product. */
export function warmSentence({
  atOnce,
  warm,
  coldShift: shift,
}: Pick<TimeResult, 'atOnce' | 'warm' | 'coldShift'>): string {
  const reached = warm > 0 ? `after ${n(warm / 60, 2)} min` : 'from the start';
  const shown = `The outlet temperature shows ${n(100 * atOnce, 2)} % of its rise at once and is within ${WARM} K of its steady value ${reached}`;
  if (Number.isNaN(shift)) return `${shown}; with a cold casing the mill would choke.`;
  return `${shown}; a cold casing makes x95 ${n(100 * Math.abs(shift), 2)} % ${shift < 0 ? 'finer' : 'coarser'}.`;
}

function spreadSentences({ components }: Scenario, { spread }: TimeResult): string[] {
  const percent = ({ mean, deviation }: Spread) => {
    const share = (100 * deviation) / mean;
    return `${share < LEAST_SCATTER ? 0 : n(share, 2)} %`;
  };
  const noise = `Feeder variation of ${percent(spread.feedRate)} gives a scatter of ${percent(spread.x50)} in x50 and ${percent(spread.x95)} in x95 from sample to sample.`;
  const { shares } = spread;
  if (!shares) return [noise];
  const share = ({ mean, deviation }: Spread) => `${n(100 * mean)} ± ${n(100 * deviation, 2)} %`;
  return [
    noise,
    `Two feeders in ratio: share of ${label(components[0]!.material.name)} ${share(shares.feed)} as fed, ${share(shares.mill)} behind the mill, ${share(shares.sample)} in a sample (one standard deviation).`,
  ];
}

/** Time after a trip until 1 % of the hold-up is left [s]. */
function emptyAfter({ time, holdup }: TimeSeries, from: number): number {
  const start = time.findIndex((t) => t >= from);
  const end = holdup.findIndex((mass, i) => i > start && mass < 0.01 * holdup[Math.max(0, start - 1)]!);
  return end < 0 ? Number.NaN : time[end]! - from;
}
