import type { TimeSeries } from '../../model/time/run.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n } from '../../scenario/units/display.ts';
import { label } from '../text.ts';
import { type Spread, type TimeResult, WARM } from './time-run.ts';

/** What a run in time shows, in sentences; the first is the answer. */
export function timeSentences(scenario: Scenario, result: TimeResult): string[] {
  const { series, settled, warm, coldShift, choked } = result;
  if (choked) return [`the mill passes its load limit ${n(series.chokedAt, 3)} s after start: it chokes.`];
  const [start, ...changes] = settled;
  return [
    `the mill itself settles in ${n(start!.mill, 3)} s after start, ${sampleWords(start!.sample)}.`,
    warmSentence(warm, coldShift),
    ...changes.map((change) => changeSentence(change, result)),
    ...spreadSentences(scenario, result),
  ];
}

function changeSentence(
  { from, mill, sample }: TimeResult['settled'][number],
  { events, series }: TimeResult,
): string {
  if (events.some(({ at, rate }) => at === from && rate === 0))
    return `Feed stopped at ${n(from / 60)} min: 99 % of the hold-up is ground out ${n(emptyAfter(series, from), 3)} s later. Rotor and wheel still turn.`;
  return `After the change at ${n(from / 60)} min the mill settles in ${n(mill, 3)} s, ${sampleWords(sample)}.`;
}

/** When a sample is worth taking, counted from the last change. */
export function sampleWords(seconds: number): string {
  if (Number.isNaN(seconds)) return 'a sample not within the time computed: make time.duration longer';
  return `a sample behind duct and cyclone in ${n(seconds, 3)} s: sample from ${n(Math.ceil(seconds / 30) * 0.5)} min on`;
}

/** How long the mill warms up, and what that may do to the product. */
export function warmSentence(warm: number, shift: number): string {
  const time = `The outlet temperature needs ${n(warm / 60, 2)} min to come within ${WARM} K of its steady value`;
  if (Number.isNaN(shift)) return `${time}; a cold mill would choke.`;
  return `${time}; while the mill is cold, x95 is up to ${n(100 * Math.abs(shift), 2)} % ${shift < 0 ? 'finer' : 'coarser'}.`;
}

function spreadSentences({ components }: Scenario, { spread }: TimeResult): string[] {
  const percent = ({ mean, deviation }: Spread) => `${n((100 * deviation) / mean, 2)} %`;
  const noise = `Feeder noise of ${percent(spread.feedRate)} gives a scatter of ${percent(spread.x50)} in x50 and ${percent(spread.x95)} in x95 from sample to sample.`;
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
