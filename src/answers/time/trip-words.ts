import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber as n, toShown } from '../../scenario/units/display.ts';
import { feedThatRuns } from '../verdict-words.ts';
import type { TimeResult } from './time-run.ts';

/** Masses of powder below a gram are none in a sentence [kg]. */
const LEAST_MASS = 1e-3;

function kilograms(mass: number): string {
  return `${n(mass < LEAST_MASS ? 0 : mass, 3)} kg`;
}

/** How much powder goes before the first good sample, and how much of the product is out of specification. */
export function powderSentences({ powder }: Scenario, result: TimeResult): string[] {
  const { masses, judged, fedBeforeSample } = result;
  const lines: string[] = [];
  if (Number.isFinite(fedBeforeSample)) {
    const left = powder && powder.have - powder.reserve;
    const short =
      left !== undefined && fedBeforeSample > left ? `, more than the ${kilograms(left)} available` : '';
    lines.push(`${kilograms(fedBeforeSample)} of powder are fed before the first good sample${short}.`);
  }
  if (!judged)
    return [...lines, 'Product out of specification is not counted: the spec has no requirement on sizes.'];
  const off = masses.map(
    ({ from, outOfSpec, product }) =>
      `${kilograms(outOfSpec)} of ${kilograms(product)} ${sinceWords(result, from)}`,
  );
  return [...lines, `Product out of specification: ${off.join('; ')}.`];
}

function sinceWords({ trips, events }: TimeResult, from: number): string {
  if (from === 0) return 'from the start';
  const minute = `at ${n(from / 60)} min`;
  const trip = trips.find(({ at }) => at === from);
  if (trip) return `after the ${trip.trip} trip ${minute}`;
  const stops = events.some(({ at, rate }) => at === from && rate === 0);
  return `after the ${stops ? 'feed stop' : 'change'} ${minute}`;
}

/** When the mill chokes, counted from the trip that led to it where there was one. */
export function chokedSentence({ series: { chokedAt }, trips, events, feedAtChoke }: TimeResult): string {
  const before = trips.filter(({ at }) => at <= chokedAt).at(-1);
  if (!before)
    return `the mill chokes: it passes its load limit ${n(chokedAt, 3)} s after the start${runsUpTo(feedAtChoke)}.`;
  const stopped = events.some(({ at, rate }) => rate === 0 && at <= chokedAt);
  const remedy = stopped ? '' : '; stop the feed before that';
  return `the mill chokes ${n(chokedAt - before.at, 2)} s after the ${before.trip} trip at ${n(before.at / 60)} min${remedy}.`;
}

/** A mill without feed is not a mill at rest. */
export function turningWords({ trips }: TimeResult, from: number): string {
  const parts = (['rotor', 'wheel'] as const).filter(
    (part) => !trips.some(({ trip, at }) => trip === part && at <= from),
  );
  if (parts.length === 0) return '';
  return ` The ${parts.join(' and the ')} still turn${parts.length > 1 ? '' : 's'}.`;
}

/** What a trip means for the run, and what its course relies on. */
export function tripSentences({ blocks }: Scenario, { trips, series }: TimeResult): string[] {
  const plant = blocks.plant as Readonly<Record<string, unknown>> | undefined;
  const shafts = (plant?.shafts ?? {}) as Readonly<Record<string, unknown>>;
  const lines = trips
    .filter(({ trip }) => trip === 'airlock')
    .map(({ at }) => {
      const rate = series.productRate[series.time.findIndex((time) => time >= at)] ?? 0;
      return `From the airlock trip at ${n(at / 60)} min ${n(toShown(rate, 'kg/h'), 3)} kg/h of product collect in the cyclone: stop the feed.`;
    });
  const unknown = (['rotor', 'wheel'] as const).filter(
    (part) => trips.some(({ trip }) => trip === part) && shafts[`${part}Inertia`] === undefined,
  );
  if (unknown.length > 0) {
    const keys = unknown.map((part) => `plant.shafts.${part}Inertia`).join(', ');
    lines.push(
      `The coast-down of ${unknown.join(' and ')} is estimated for a steel disc braked by air only; give ${keys}. Never open a mill that still turns.`,
    );
  }
  if (trips.some(({ trip }) => trip === 'fan'))
    lines.push('The air is assumed to fall to half in 5 s after a fan trip.');
  return lines;
}

/** Up to which feed the mill runs, as the end of a sentence; empty where that is not known. */
function runsUpTo(feed: number | undefined): string {
  return feed === undefined ? '' : `; ${feedThatRuns(feed)}`;
}
