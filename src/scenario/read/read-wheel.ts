import type { Wheel } from '../../model/case.ts';
import { WHEEL_COEFFICIENTS, WHEEL_MAX_SPEED, WHEEL_MOTOR } from '../../model/parameters/wheel-parameters.ts';
import type { LawChoice } from '../../model/parameters.ts';
import { SOURCES } from '../../model/sources.ts';
import { swirlFactor } from '../../model/wheel/wheel-flow.ts';
import type { Drive } from '../scenario.ts';
import { checkEfficiency } from './ascending.ts';
import { namesOf, readNumbers } from './block.ts';
import { EFFICIENCY_LAWS } from './laws.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { readLaw } from './read-law.ts';
import { asBlock, type Context, checkKeys, fault, join, missing, readText } from './reading-context.ts';
import { enter } from './record-evidence.ts';
import { parseTopSpeed } from './speed.ts';
import { readWheelGeometry } from './wheel-geometry.ts';

/** Names that can stand in a dotted path. */
export const PLAIN_NAME = /^\p{L}[\p{L}\p{M}\p{N}_-]{0,59}$/u;
/** What such a name is, in words. */
export const NAME_RULE = 'a name of letters (of any script), digits, - and _, starting with a letter';
/** Wheels of one machine. */
export const MOST_WHEELS = 50;
const KEYS = ['description', 'geometry', 'coefficients', 'efficiency', 'motor', 'maxSpeed'];

/** The signs of a name that cannot stand in it, for a message. */
export function oddLetters(name: string): string {
  const odd = [...new Set(name.match(/[^\p{L}\p{M}\p{N}_-]/gu) ?? [])].slice(0, 5);
  const words = odd.map((sign) => (sign === ' ' ? 'a blank' : `"${sign}"`));
  return words.length === 0 ? '' : `; it has ${words.join(', ')}`;
}

/** `machine.wheels:` — every wheel by its name. */
export function readWheels(
  context: Context,
  node: Node | undefined,
  drive: Drive | undefined,
): Readonly<Record<string, Wheel>> {
  const path = 'machine.wheels';
  const block = asBlock(context, node, path);
  if (!block || block.entries.size === 0 || block.entries.size > MOST_WHEELS) {
    if (!node || block) missing(context, node, path, `must name 1 to ${MOST_WHEELS} wheels`);
    return {};
  }
  const wheels: Record<string, Wheel> = {};
  for (const [name, child] of block.entries) {
    if (!PLAIN_NAME.test(name)) {
      const place = `${path}.${name.slice(0, 60)}`;
      fault(context, child, place, `must have ${NAME_RULE}${oddLetters(name)}`);
      continue;
    }
    const wheel = asBlock(context, child, join(path, name));
    if (wheel) wheels[name] = readWheel(context, wheel, join(path, name), drive);
  }
  return wheels;
}

function readWheel(context: Context, block: Block, path: string, drive: Drive | undefined): Wheel {
  checkKeys(context, block, path, KEYS);
  readText(context, childOf(block, 'description'), join(path, 'description'));
  const coefficientBlock = asBlock(context, childOf(block, 'coefficients'), join(path, 'coefficients'));
  checkKeys(context, coefficientBlock, join(path, 'coefficients'), namesOf(WHEEL_COEFFICIENTS));
  const geometry = readWheelGeometry(context, childOf(block, 'geometry'), join(path, 'geometry'));
  const coefficients = readNumbers<keyof Wheel['coefficients']>(
    context,
    coefficientBlock,
    join(path, 'coefficients'),
    WHEEL_COEFFICIENTS,
  );
  const parse = parseTopSpeed(drive, geometry.diameter, 'wheel');
  const maxSpeed = readNumber(context, childOf(block, 'maxSpeed'), join(path, 'maxSpeed'), WHEEL_MAX_SPEED, {
    parse,
  });
  const efficiency = readEfficiency(context, childOf(block, 'efficiency'), join(path, 'efficiency'));
  const motor = readMotor(context, childOf(block, 'motor'), join(path, 'motor'));
  const wheel: Wheel = {
    geometry,
    coefficients,
    efficiency,
    ...(motor ? { motor } : {}),
    maxSpeed: maxSpeed ?? Number.NaN,
  };
  enterSwirl(context, path, wheel);
  return wheel;
}

/** The wheel's own motor, where the file gives one. */
function readMotor(context: Context, node: Node | undefined, path: string): Wheel['motor'] {
  if (!node) return undefined;
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, namesOf(WHEEL_MOTOR));
  return readNumbers<'power'>(context, block, path, WHEEL_MOTOR);
}

/** The swirl factor in use where the file gives none follows from vanes and lean: it is listed like every other. */
function enterSwirl(context: Context, path: string, wheel: Wheel): void {
  if (wheel.coefficients.swirlFactor !== undefined) return;
  const parameter = WHEEL_COEFFICIENTS.find(({ name }) => name === 'swirlFactor')!;
  const value = { value: swirlFactor(wheel), shownIn: parameter.shownIn };
  const source = `1 − √(cos β)/z^0.7, after ${SOURCES.wiesner1967}; its use for inflow is assumed`;
  if (Number.isFinite(value.value))
    enter(context, join(path, 'coefficients.swirlFactor'), parameter, value, { label: 'recalled', source });
}

function readEfficiency(context: Context, node: Node | undefined, path: string): LawChoice {
  const efficiency = readLaw(context, node, path, EFFICIENCY_LAWS, 'rosin-rammler');
  checkEfficiency(context, node, path, efficiency);
  return efficiency;
}
