import type { Parameter } from '../../model/parameters.ts';
import type { Evidence, Label } from '../../model/sources.ts';
import { formatQuantity, isShownUnit, toShown } from '../units/display.ts';
import { parseRange, parseValue, type Value } from '../units/parse.ts';
import { isProblem, type Problem } from '../units/problem.ts';
import { asBlock, type Context, checkKeys, fault, join, missing, readChoice, readText } from './context.ts';
import { childOf, type Node } from './node.ts';

const LABELS: readonly Label[] = [
  'published',
  'recalled',
  'derived',
  'assumed',
  'practice',
  'given',
  'fitted',
];

/** How one number may stand in the file. */
export interface Reading {
  /** May be a range or `unknown`; neighbours give the dimensions that priors are multiples of. */
  readonly uncertain?: { readonly neighbours: Readonly<Record<string, number>> };
  /** Evidence of a value without a record of its own. */
  readonly parse?: (text: string, parameter: Parameter) => Value | Problem;
}

/**
 * One number of the file, in SI: read with its unit, checked against its range, entered in the table of evidence.
 *
 * @param node what stands in the file; undefined takes the preset
 * @returns SI value; undefined where it is optional and absent, or where a fault was noted
 */
export function readNumber(
  context: Context,
  node: Node | undefined,
  path: string,
  parameter: Parameter,
  reading: Reading = {},
): number | undefined {
  context.parameters.set(path, parameter);
  if (node === undefined) return presetOf(context, path, parameter);
  const record = recordOf(context, node, path);
  if (!record) return undefined;
  const text = readText(context, record.value, path);
  if (text === undefined) return undefined;
  const value =
    readUncertain(context, record.value, text, path, parameter, reading) ??
    (reading.parse ?? parseValue)(text, parameter);
  if (isProblem(value)) return reject(context, record.value, path, value.problem);
  const wrong = outOfRange(value.value, parameter, value.shownIn);
  if (wrong) return reject(context, record.value, path, wrong);
  enter(context, path, parameter, value, record.evidence);
  return value.value;
}

function presetOf(context: Context, path: string, parameter: Parameter): number | undefined {
  const { preset } = parameter;
  if (preset) {
    enter(context, path, parameter, { value: preset.value, shownIn: parameter.shownIn }, preset);
    return preset.value;
  }
  if (!parameter.optional) {
    const unit = parameter.shownIn === '1' ? '' : ` in ${parameter.shownIn}`;
    missing(context, undefined, path, `must be given: ${parameter.meaning}${unit}`);
  }
  return undefined;
}

function reject(context: Context, node: Node, path: string, message: string): undefined {
  fault(context, node, path, message);
  return undefined;
}

/** A value may stand alone or as `{ value, label, source }`. */
function recordOf(
  context: Context,
  node: Node,
  path: string,
): { value: Node; evidence: Evidence } | undefined {
  if (node.kind === 'leaf') return { value: node, evidence: evidenceOf(node) };
  const block = asBlock(context, node, path);
  if (!block) return undefined;
  checkKeys(context, block, path, ['value', 'label', 'source']);
  const value = childOf(block, 'value');
  if (!value) {
    fault(context, block, path, 'must be a value with its unit, or { value, label, source }');
    return undefined;
  }
  const own = evidenceOf(node);
  const label = readChoice(context, childOf(block, 'label'), join(path, 'label'), LABELS) ?? own.label;
  const source = readText(context, childOf(block, 'source'), join(path, 'source'), 400) ?? own.source;
  return { value, evidence: { label, source } };
}

function evidenceOf(node: Node): Evidence {
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

/** A range or `unknown`: notes the range and returns its middle; undefined where the text is neither. */
function readUncertain(
  context: Context,
  node: Node,
  text: string,
  path: string,
  parameter: Parameter,
  reading: Reading,
): Value | Problem | undefined {
  const unknown = text.trim().toLowerCase() === 'unknown';
  const range = unknown ? undefined : parseRange(text, parameter);
  if (!unknown && range === undefined) return undefined;
  if (!reading.uncertain) return { problem: 'must be one value here, not a range' };
  if (range && isProblem(range)) return range;
  const prior = unknown ? priorOf(parameter, reading.uncertain.neighbours) : undefined;
  if (unknown && !prior)
    return { problem: `must be known: ${parameter.meaning} has no range to assume for it` };
  const low = range ? range.low.value : prior![0];
  const high = range ? range.high.value : prior![1];
  for (const end of [low, high]) {
    const wrong = outOfRange(end, parameter, parameter.shownIn);
    if (wrong && !parameter.integer) return { problem: wrong };
  }
  context.uncertain[path] = [low, high];
  const middle = (low + high) / 2;
  const { shownIn } = range ? range.high : parameter;
  context.warnings.push({
    code: 'uncertain',
    message: `${path} is taken as ${formatQuantity(low, shownIn)} to ${formatQuantity(high, shownIn)}${unknown ? ', a range assumed for it' : ''}; it widens every band (line ${node.line ?? '–'})`,
  });
  return { value: parameter.integer ? Math.round(middle) : middle, shownIn };
}

function priorOf(
  parameter: Parameter,
  neighbours: Readonly<Record<string, number>>,
): readonly [number, number] | undefined {
  const { prior } = parameter;
  if (!prior) return undefined;
  if (prior.of === undefined) return [prior.low, prior.high];
  const size = neighbours[prior.of];
  return size === undefined ? undefined : [prior.low * size, prior.high * size];
}

/** Why a value is outside what its parameter allows; undefined where it is inside. */
export function outOfRange(value: number, parameter: Parameter, shownIn: string): string | undefined {
  const unit = isShownUnit(shownIn) ? shownIn : parameter.shownIn;
  const show = (limit: number) => formatQuantity(limit, unit);
  const { exclusiveMinimum, minimum, exclusiveMaximum, maximum } = parameter;
  const found = `is ${show(value)}`;
  if (!Number.isFinite(value)) return 'must be a finite number';
  if (exclusiveMinimum !== undefined && value <= exclusiveMinimum)
    return `must be > ${show(exclusiveMinimum)}, ${found}`;
  if (minimum !== undefined && value < minimum) return `must be ≥ ${show(minimum)}, ${found}`;
  if (exclusiveMaximum !== undefined && value >= exclusiveMaximum)
    return `must be < ${show(exclusiveMaximum)}, ${found}`;
  if (maximum !== undefined && value > maximum) return `must be ≤ ${show(maximum)}, ${found}`;
  if (parameter.integer && !Number.isInteger(value)) return `must be a whole number, ${found}`;
  return undefined;
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
    meaning: parameter.meaning,
    symbol: parameter.symbol,
  };
}
