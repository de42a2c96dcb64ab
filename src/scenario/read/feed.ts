import type { LawChoice, Table } from '../../model/parameters.ts';
import type { Evidence } from '../../model/sources.ts';
import { formatNumber } from '../units/display.ts';
import { checkRising } from './ascending.ts';
import { FEED_LAWS } from './laws.ts';
import { readMeasuredFile } from './measured-feed.ts';
import { childOf, type Node, textOf } from './node.ts';
import { readLaw, readPoints } from './read-law.ts';
import { asBlock, type Context, checkKeys, fault, join, missing } from './reading-context.ts';
import { enter, evidenceOf } from './record-evidence.ts';

const FAILED: LawChoice = { law: '' };
const EXAMPLE = '{ percentiles: { 10 %: 180 um, 50 %: 500 um, 90 %: 900 um } }';
/** What a cumulative curve may lack at its top and still be scaled up to 100 %. */
const NEARLY_WHOLE = 0.99;
const SHOWN_SHARES = [0.1, 0.5, 0.9];

/**
 * `feed:` — a law of the registry; `percentiles: { 10 %: 180 um, … }`; `points:` of a curve; or `file:` with a measured one.
 */
export function readFeed(context: Context, node: Node | undefined, path: string): LawChoice {
  if (!node) {
    missing(context, node, path, `must be given, e.g. ${EXAMPLE}`);
    return FAILED;
  }
  const block = asBlock(context, node, path);
  if (!block) return FAILED;
  const law = textOf(block, 'law');
  if (childOf(block, 'percentiles') && (law === undefined || law === 'percentiles')) {
    checkKeys(context, block, path, ['law', 'percentiles']);
    return readPercentiles(context, childOf(block, 'percentiles'), path, 'percentiles');
  }
  if (law === 'percentiles') {
    checkKeys(context, block, path, ['law', 'points', 'percentiles']);
    return readPercentiles(context, childOf(block, 'points'), path, 'points');
  }
  if (law === 'file' || (law === undefined && childOf(block, 'file'))) {
    const measured = readMeasuredFile(context, block, path);
    if (!measured) return FAILED;
    const { node: file, points, evidence, shares } = measured;
    if (!shares) return readCurve(context, file, path, points, evidence);
    for (const [share, size] of points) enterSize(context, path, share, size, evidence);
    return { law: FEED_LAWS.percentiles!.name, points };
  }
  if (law !== undefined && law !== 'table') return readLaw(context, block, path, FEED_LAWS);
  if (law === undefined && !childOf(block, 'points')) return readLaw(context, block, path, FEED_LAWS);
  const table = readLaw(context, block, path, FEED_LAWS, 'table');
  const points = table.points as Table | undefined;
  return points ? readCurve(context, childOf(block, 'points')!, path, points, evidenceOf(block)) : FAILED;
}

function readPercentiles(context: Context, node: Node | undefined, path: string, key: string): LawChoice {
  const law = FEED_LAWS.percentiles!;
  const place = join(path, key);
  const points = readPoints(context, node, place, law.table!);
  if (!node || !points) return FAILED;
  for (let i = 1; i < points.length; i++) {
    if (points[i]![1] > points[i - 1]![1]) continue;
    fault(
      context,
      node,
      place,
      `must have sizes that rise with the shares; at ${percent(points[i]![0])} they do not`,
    );
  }
  for (const [share, size] of points) enterSize(context, path, share, size, evidenceOf(node));
  return { law: law.name, points };
}

/** A measured or typed curve: it must rise to its whole; a rounded-off top is scaled up, and said. */
function readCurve(context: Context, node: Node, path: string, rows: Table, evidence: Evidence): LawChoice {
  const place = join(path, 'points');
  checkRising(context, node, place, rows);
  const top = rows.at(-1)![1];
  if (top < NEARLY_WHOLE) {
    fault(
      context,
      node,
      place,
      `must end at 100 %, ends at ${percent(top)}: give the size that all of it passes`,
    );
    return FAILED;
  }
  if (top < 1) {
    const message = `${path} ends at ${percent(top)} undersize and is scaled up to 100 %`;
    context.warnings.push({ code: 'feed-scaled', message });
  }
  const whole = rows.findIndex(([, share]) => share >= top);
  const points = rows.slice(0, whole + 1).map(([size, share]) => [size, share / top] as const);
  if (points.length < 2) {
    fault(context, node, place, 'must have at least one size that less than 100 % passes');
    return FAILED;
  }
  const shown = SHOWN_SHARES.filter((share) => share > points[0]![1]);
  const source = `${evidence.source}, ${points.length} points`;
  for (const share of shown) enterSize(context, path, share, sizeAt(points, share), { ...evidence, source });
  return { law: 'table', points };
}

/** Size at a share, by straight lines in ln x between the rows: for the table of evidence only. */
function sizeAt(points: Table, share: number): number {
  const i = points.findIndex(([, below]) => below >= share);
  const [[x0, q0], [x1, q1]] = [points[i - 1]!, points[i]!];
  return x0 * (x1 / x0) ** ((share - q0) / (q1 - q0));
}

function enterSize(context: Context, path: string, share: number, size: number, evidence: Evidence): void {
  const name = `x${formatNumber(100 * share)}`;
  const parameter = {
    name,
    symbol: name,
    unit: 'm',
    shownIn: 'um',
    meaning: `size that ${percent(share)} of the feed is finer than`,
  };
  enter(context, join(path, name), parameter, { value: size, shownIn: 'um' }, evidence);
}

function percent(share: number): string {
  return `${formatNumber(100 * share)} %`;
}
