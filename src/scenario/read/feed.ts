import type { LawChoice, Parameter, Table } from '../../model/parameters.ts';
import { asBlock, type Context, checkKeys, fault, join, missing, readText } from './context.ts';
import { readCurveFile } from './curve-file.ts';
import { readLaw, readPoints } from './law.ts';
import { FEED_LAWS } from './laws.ts';
import { childOf, type Node, textOf } from './node.ts';

const SHARE: Parameter = {
  name: 'share',
  symbol: 'Q',
  unit: '1',
  shownIn: '%',
  meaning: 'share of the mass that is finer',
  exclusiveMinimum: 0,
  exclusiveMaximum: 1,
};
const SIZE: Parameter = {
  name: 'size',
  symbol: 'x',
  unit: 'm',
  shownIn: 'um',
  meaning: 'particle size',
  exclusiveMinimum: 0,
  maximum: 1,
};
const FAILED: LawChoice = { law: '' };

/**
 * `feed:` — a law of the registry; `percentiles: { 10 %: 180 um, … }`; or `file:` with a measured curve.
 */
export function readFeed(context: Context, node: Node | undefined, path: string): LawChoice {
  if (!node) {
    missing(
      context,
      node,
      path,
      'must be given, e.g. { percentiles: { 10 %: 180 um, 50 %: 500 um, 90 %: 900 um } }',
    );
    return FAILED;
  }
  const block = asBlock(context, node, path);
  if (!block) return FAILED;
  const law = textOf(block, 'law');
  if (law === 'percentiles' || (law === undefined && childOf(block, 'percentiles'))) {
    checkKeys(context, block, path, ['law', 'percentiles']);
    return readPercentiles(context, childOf(block, 'percentiles'), join(path, 'percentiles'));
  }
  if (law === 'file' || (law === undefined && childOf(block, 'file'))) {
    checkKeys(context, block, path, ['law', 'file', 'sizeUnit', 'source']);
    return readMeasured(context, block, path);
  }
  if (law === undefined && childOf(block, 'points')) return readLaw(context, block, path, FEED_LAWS, 'table');
  return readLaw(context, block, path, FEED_LAWS);
}

function readPercentiles(context: Context, node: Node | undefined, path: string): LawChoice {
  const rows = readPoints(context, node, path, { columns: [SHARE, SIZE] });
  if (!rows) return FAILED;
  for (let i = 1; i < rows.length; i++) {
    if (rows[i]![1] <= rows[i - 1]![1])
      fault(context, node, path, 'must have sizes that rise with the shares');
  }
  return { law: 'percentiles', points: rows };
}

function readMeasured(context: Context, block: Node, path: string): LawChoice {
  const place = join(path, 'file');
  const file = readText(context, childOf(block, 'file'), place, 400);
  const unit = readText(context, childOf(block, 'sizeUnit'), join(path, 'sizeUnit'), 20);
  if (file === undefined) return FAILED;
  let text: string;
  try {
    const from = childOf(block, 'file')!.origin;
    text = context.readFile(file, from.kind === 'file' ? from.name : undefined);
  } catch (error) {
    fault(context, childOf(block, 'file'), place, `cannot be read: ${(error as Error).message}`);
    return FAILED;
  }
  const curve = readCurveFile(text, unit);
  if ('problem' in curve) {
    fault(context, childOf(block, 'file'), place, `${file}: ${curve.problem}`);
    return FAILED;
  }
  const points: Table = curve.points;
  return { law: 'table', points };
}
