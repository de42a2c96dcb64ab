import type { Parameter } from '../../model/parameters.ts';
import { parseValue } from '../units/parse-quantity.ts';
import { isProblem } from '../units/unit-problem.ts';
import { likelySlip, meantValue, questionOf } from './likely-slip.ts';
import type { Node } from './node.ts';
import { outOfRange } from './out-of-range.ts';
import type { Reading } from './reading.ts';
import { type Context, fault, missing, question, readText } from './reading-context.ts';
import { enter, recordOf } from './record-evidence.ts';
import { readUncertain } from './uncertain.ts';

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
  const neighbours = reading.uncertain?.neighbours;
  const wrong = outOfRange(value.value, parameter, value.shownIn);
  if (wrong) {
    const slip = likelySlip(text, value.value, value.shownIn, parameter, neighbours);
    return reject(context, record.value, path, wrong + meantValue(slip));
  }
  question(context, record.value, path, questionOf(text, value.value, value.shownIn, parameter, neighbours));
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
