import type { Drive, Scenario, SettingRange } from '../scenario.ts';
import { parseValue, type Value } from '../units/parse-quantity.ts';
import { isProblem, type Problem } from '../units/unit-problem.ts';
import { FEED_RATE } from './feed-rate.ts';
import { childOf, type Node, textOf } from './node.ts';
import { outOfRange } from './out-of-range.ts';
import { asBlock, type Context, checkKeys, fault, join } from './reading-context.ts';
import { parseSpeed } from './speed.ts';

const NAMES = ['rotorSpeed', 'wheelSpeed', 'feedRate'] as const;
type Name = (typeof NAMES)[number];

/** `machine.ranges:` — within what the machine is run, `{ rotorSpeed: { from, to }, … }`. */
export function readRanges(
  context: Context,
  node: Node | undefined,
  drives: Scenario['machine']['drives'],
): { ranges?: Partial<Record<Name, SettingRange>> } {
  const path = 'machine.ranges';
  const block = asBlock(context, node, path);
  if (!block) return {};
  checkKeys(context, block, path, NAMES);
  const ranges: Partial<Record<Name, SettingRange>> = {};
  for (const name of NAMES) {
    const range = readRange(context, childOf(block, name), join(path, name), name, drives);
    if (range) ranges[name] = range;
  }
  return { ranges };
}

function readRange(
  context: Context,
  node: Node | undefined,
  path: string,
  name: Name,
  drives: Scenario['machine']['drives'],
): SettingRange | undefined {
  const block = asBlock(context, node, path);
  if (!block) return undefined;
  checkKeys(context, block, path, ['from', 'to']);
  const ends = (['from', 'to'] as const).map((key) => {
    const end = parseSetting(textOf(block, key) ?? '', name, drives);
    if (isProblem(end)) fault(context, block, join(path, key), end.problem);
    return isProblem(end) ? undefined : end;
  });
  const [from, to] = ends;
  if (!from || !to) return undefined;
  if (from.as !== to.as) fault(context, block, path, 'must have both ends in the same kind of unit');
  if (!(from.value < to.value)) fault(context, block, path, 'must run from low to high');
  return { from: from.value, to: to.value, ...(from.as ? { as: from.as } : {}) };
}

/** One value of a setting: SI, with `as` for a speed, and the unit it is shown in. */
export function parseSetting(
  text: string,
  name: Name,
  drives: { readonly rotor?: Drive; readonly wheel?: Drive },
): { value: number; as?: 'shaft' | 'rim'; shownIn: string } | Problem {
  if (name === 'feedRate') return within(parseValue(text, FEED_RATE));
  const shaft = name === 'rotorSpeed' ? 'rotor' : 'wheel';
  const typed = parseSpeed(text, drives[shaft], shaft);
  if (isProblem(typed)) return typed;
  return typed.speed.value > 0 ? { ...typed.speed, shownIn: typed.shownIn } : { problem: 'must be > 0' };
}

function within(rate: Value | Problem): Value | Problem {
  const wrong = isProblem(rate) ? undefined : outOfRange(rate.value, FEED_RATE, rate.shownIn);
  return wrong === undefined ? rate : { problem: wrong };
}
