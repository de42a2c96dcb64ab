import type { Wheel } from '../../model/case.ts';
import { WHEEL_COEFFICIENTS, WHEEL_GEOMETRY, WHEEL_MAX_SPEED } from '../../model/parameters/wheel.ts';
import type { Drive } from '../scenario.ts';
import { namesOf, readNumbers } from './block.ts';
import { asBlock, type Context, checkKeys, fault, join, missing, readText } from './context.ts';
import { readLaw } from './law.ts';
import { EFFICIENCY_LAWS } from './laws.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { parseTopSpeed } from './speed.ts';

/** Names that can stand in a dotted path. */
export const PLAIN_NAME = /^[A-Za-z][A-Za-z0-9_-]{0,59}$/;
const MOST_WHEELS = 50;
const KEYS = ['description', 'geometry', 'coefficients', 'efficiency', 'maxSpeed'];

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
      fault(context, child, place, 'must have a name of letters, digits, - and _, starting with a letter');
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
  const geometryBlock = asBlock(context, childOf(block, 'geometry'), join(path, 'geometry'));
  const coefficientBlock = asBlock(context, childOf(block, 'coefficients'), join(path, 'coefficients'));
  checkKeys(context, geometryBlock, join(path, 'geometry'), namesOf(WHEEL_GEOMETRY));
  checkKeys(context, coefficientBlock, join(path, 'coefficients'), namesOf(WHEEL_COEFFICIENTS));
  const geometry = readNumbers<keyof Wheel['geometry']>(
    context,
    geometryBlock,
    join(path, 'geometry'),
    WHEEL_GEOMETRY,
  );
  checkOpening(context, geometryBlock, path, geometry);
  const parse = parseTopSpeed(drive, geometry.diameter, 'wheel');
  return {
    geometry,
    coefficients: readNumbers<keyof Wheel['coefficients']>(
      context,
      coefficientBlock,
      join(path, 'coefficients'),
      WHEEL_COEFFICIENTS,
    ),
    efficiency: readLaw(
      context,
      childOf(block, 'efficiency'),
      join(path, 'efficiency'),
      EFFICIENCY_LAWS,
      'rosin-rammler',
    ),
    maxSpeed:
      readNumber(context, childOf(block, 'maxSpeed'), join(path, 'maxSpeed'), WHEEL_MAX_SPEED, { parse }) ??
      Number.NaN,
  };
}

/** Vanes that would close the rim leave no free area for the air. */
function checkOpening(
  context: Context,
  node: Node | undefined,
  path: string,
  geometry: Wheel['geometry'],
): void {
  const { diameter, vanes, thickness, lean, openArea } = geometry;
  const open = Math.PI * diameter - (vanes * thickness) / Math.cos(lean);
  if (openArea !== undefined || !(open <= 0)) return;
  fault(context, node, join(path, 'geometry'), 'must leave air between the vanes: they close the whole rim');
}
