import type { Parameter } from '../../model/parameters.ts';
import type { Evidence, Label } from '../../model/sources.ts';
import { isShownUnit, toShown } from '../units/display.ts';
import { parseValue, type Value } from '../units/parse-quantity.ts';
import { isProblem } from '../units/unit-problem.ts';
import { childOf, type Node } from './node.ts';
import { asBlock, type Context, checkKeys, fault, join, readChoice, readText } from './reading-context.ts';

const LABELS: readonly Label[] = [
  'published',
  'recalled',
  'derived',
  'assumed',
  'practice',
  'given',
  'measured',
  'fitted',
];

/** A value may stand alone or as `{ value, label, source, spread }`; the spread is its relative standard error. */
export function recordOf(
  context: Context,
  node: Node,
  path: string,
): { value: Node; evidence: Evidence } | undefined {
  if (node.kind === 'leaf') return { value: node, evidence: evidenceOf(node) };
  const block = asBlock(context, node, path);
  if (!block) return undefined;
  checkKeys(context, block, path, ['value', 'label', 'source', 'spread']);
  const value = childOf(block, 'value');
  if (!value) {
    fault(context, block, path, 'must be a value with its unit, or { value, label, source }');
    return undefined;
  }
  const own = evidenceOf(node);
  const label = readChoice(context, childOf(block, 'label'), join(path, 'label'), LABELS) ?? own.label;
  const source = readText(context, childOf(block, 'source'), join(path, 'source'), 400) ?? own.source;
  const spread = spreadOf(context, childOf(block, 'spread'), join(path, 'spread'));
  return { value, evidence: { label, source, ...(spread === undefined ? {} : { spread }) } };
}

/** A relative standard error in percent; undefined where none is given, or a fault was noted. */
function spreadOf(context: Context, node: Node | undefined, path: string): number | undefined {
  const text = readText(context, node, path, 40);
  if (text === undefined) return undefined;
  const value = parseValue(text, { unit: '1', shownIn: '%' });
  if (!isProblem(value) && value.value > 0 && value.value <= 2) return value.value;
  fault(context, node, path, isProblem(value) ? value.problem : `must be above 0, at most 200 %, is ${text}`);
  return undefined;
}

/** Evidence of a value that has no record of its own. */
export function evidenceOf(node: Node): Evidence {
  switch (node.origin.kind) {
    case 'scenario':
      return { label: 'given', source: 'scenario file' };
    case 'option':
      return { label: 'given', source: '--set' };
    case 'calibration':
      return { label: 'fitted', source: node.origin.name };
    case 'file':
      return { label: 'given', source: node.origin.name };
    case 'catalogue':
      return { label: 'assumed', source: node.origin.name };
  }
}

/** Enters a value in the table of evidence. */
export function enter(
  context: Context,
  path: string,
  parameter: Parameter,
  value: Value,
  evidence: Evidence,
): void {
  const unit = isShownUnit(value.shownIn) ? value.shownIn : parameter.shownIn;
  context.provenance[path] = {
    value: isShownUnit(unit) ? toShown(value.value, unit) : value.value,
    unit,
    label: evidence.label,
    source: evidence.source,
    ...(evidence.spread === undefined ? {} : { spread: evidence.spread }),
    meaning: parameter.meaning,
    symbol: parameter.symbol,
  };
}
