import type { Parameter } from '../../model/parameters.ts';
import { formatQuantity } from '../units/display.ts';
import { parseRange, type Value } from '../units/parse-quantity.ts';
import { isProblem, type Problem } from '../units/unit-problem.ts';
import { questionOf } from './likely-slip.ts';
import type { Node } from './node.ts';
import { outOfRange } from './out-of-range.ts';
import type { Reading } from './reading.ts';
import { type Context, question } from './reading-context.ts';

/** A range or `unknown`: notes the range and returns its middle; undefined where the text is neither. */
export function readUncertain(
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
  if (!reading.uncertain) return { problem: 'must be one value, not a range' };
  if (range && isProblem(range)) return range;
  const prior = unknown ? priorOf(parameter, reading.uncertain.neighbours) : undefined;
  if (unknown && !prior)
    return { problem: `must be given: there is no range to assume for ${parameter.meaning}` };
  const low = range ? range.low.value : prior![0];
  const high = range ? range.high.value : prior![1];
  for (const end of [low, high]) {
    const wrong = outOfRange(end, { ...parameter, integer: false }, parameter.shownIn);
    if (wrong) return { problem: wrong };
  }
  if (range) {
    const { neighbours } = reading.uncertain;
    const [first, second] = [range.low, range.high].map((end) =>
      questionOf('', end.value, end.shownIn, parameter, neighbours),
    );
    question(context, node, path, first ?? second);
  }
  context.uncertain[path] = [low, high];
  const middle = (low + high) / 2;
  const { shownIn } = range ? range.high : parameter;
  context.warnings.push({
    code: 'uncertain',
    message: `${path} is taken as ${formatQuantity(low, shownIn)} to ${formatQuantity(high, shownIn)}${unknown ? ', an assumed range' : ''}; it widens every band${node.line === undefined ? '' : ` (line ${node.line})`}`,
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
