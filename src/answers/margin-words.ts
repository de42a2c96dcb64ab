import type { Scenario } from '../scenario/scenario.ts';
import { formatNumber, formatQuantity } from '../scenario/units/display.ts';
import { listed } from './join-words.ts';
import { KEPT, type KeptFeed } from './kept-feed.ts';
import { endWords } from './limit-words.ts';
import { BY_RANGE, type End, reachOf } from './reach.ts';
import type { Recommendation, SweptEdge } from './recommend.ts';
import { sentence } from './text.ts';
import { pathInWords } from './words.ts';

/** Of a point that meets the spec: how far the speeds may go, and what margin is kept below the highest feed. */
export function marginLines({
  scenario,
  kept,
  edges = [],
}: Pick<Recommendation, 'scenario' | 'kept' | 'edges'>): string[] {
  return [
    toleranceText(scenario),
    ...(kept ? [keptText(scenario, kept)] : []),
    ...(edges.length > 0 ? [edgesText(edges)] : []),
  ];
}

/** `Wheel speed 3600 rpm is the highest in the sweep: nothing beyond it was computed, so no margin is known on that side.` */
export function edgesText(edges: readonly SweptEdge[]): string {
  const each = edges.map(({ path, value, unit, end }) => {
    const number = `${formatNumber(value, 4)} ${unit}`.trim();
    return `${pathInWords(path)} ${number} is the ${end} in the sweep`;
  });
  const [beyond, side] = edges.length > 1 ? ['them', 'those sides'] : ['it', 'that side'];
  return `${sentence(listed(each))}: nothing beyond ${beyond} was computed, so no margin is known on ${side}.`;
}

/** How far a speed may go before the spec is lost. */
export interface Tolerance {
  readonly path: 'wheelSpeed' | 'rotorSpeed';
  /** Relative change, below 0 where the speed drops. */
  readonly change: number;
  readonly end: End;
}

/** The smallest change of wheel or rotor speed that loses the spec; undefined where both may change by half. */
export function toleranceOf(scenario: Scenario): Tolerance | undefined {
  const { rotorSpeed, wheelSpeed } = scenario.settings;
  const moves = [
    { path: 'wheelSpeed', speed: wheelSpeed } as const,
    { path: 'rotorSpeed', speed: rotorSpeed } as const,
  ].flatMap(({ path, speed }) =>
    [0.5, 1.5].map((share): Tolerance => {
      const end = reachOf(scenario, { path, value: speed.value, as: speed.as }, speed.value * share);
      return { path, change: end.value / speed.value - 1, end };
    }),
  );
  const ended = moves.filter(({ end }) => end.by !== BY_RANGE);
  if (ended.length === 0) return undefined;
  return ended.reduce((a, b) => (Math.abs(b.change) < Math.abs(a.change) ? b : a));
}

/** The same in words: `Wheel speed can drop 12 % before the product is out of spec (fineness fails first).` */
export function toleranceText(scenario: Scenario): string {
  const first = toleranceOf(scenario);
  if (!first) return 'Wheel speed and rotor speed can each change by half without losing the spec.';
  const way = first.change < 0 ? 'drop' : 'rise';
  const size = Math.abs(first.change);
  const percent = formatNumber(size * 100, size < 0.1 ? 1 : 2);
  const name = first.path === 'wheelSpeed' ? 'wheel speed' : 'rotor speed';
  return `${sentence(name)} can ${way} ${percent} % before the product is out of spec (${endWords(scenario, first.end)} fails first).`;
}

/** Which margin is kept below the highest feed. */
export function keptText(scenario: Scenario, { feedRate, limit, because }: KeptFeed): string {
  const most = formatQuantity(limit.value, 'kg/h', 3);
  const at = formatQuantity(feedRate, 'kg/h', 3);
  const left = formatNumber((1 - feedRate / limit.value) * 100, 2);
  if (because === undefined && limit.by === BY_RANGE)
    return `The highest feed rate at these settings is above ${most}; ${at} is far below it.`;
  if (because === 'range') {
    return limit.by === BY_RANGE
      ? `${at} is the highest feed rate in the sweep; the limit is higher than ${most}.`
      : `${at} is the highest feed rate in the sweep; the limit itself is ${most}, set by ${endWords(scenario, limit)}, a margin of ${left} %.`;
  }
  const set = `the limit itself is ${most}, set by ${endWords(scenario, limit)}`;
  return because === 'requirement'
    ? `The spec requires ${at}, so the usual ${formatNumber(KEPT * 100)} % margin on the feed rate cannot be kept: ${left} % is left; ${set}.`
    : `This keeps a ${left} % margin on the feed rate; ${set}.`;
}
