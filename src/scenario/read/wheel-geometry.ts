import type { Wheel } from '../../model/case.ts';
import { WHEEL_GEOMETRY } from '../../model/parameters/wheel-parameters.ts';
import { freeArea } from '../../model/wheel/wheel-flow.ts';
import { namesOf, readNumbers } from './block.ts';
import { type Block, childOf, type Node } from './node.ts';
import { asBlock, type Context, checkKeys, fault, join } from './reading-context.ts';
import { enter } from './record-evidence.ts';

type Geometry = Wheel['geometry'];

/** What stands for the number of vanes where only the open area is known: the pilot's. */
const VANES_ASSUMED = {
  value: 24,
  label: 'assumed',
  source: 'not counted; enters the swirl alone, the open area is given',
} as const;
const THICKNESS = WHEEL_GEOMETRY.find(({ name }) => name === 'thickness')!;

/** Dimensions of a wheel. Where `openArea` is given, vanes may be left out: their number then only enters the swirl. */
export function readWheelGeometry(context: Context, node: Node | undefined, path: string): Geometry {
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, namesOf(WHEEL_GEOMETRY));
  if (block && childOf(block, 'openArea')) return readByOpenArea(context, block, path);
  const geometry = readNumbers<keyof Geometry>(context, block, path, WHEEL_GEOMETRY);
  if (freeArea(geometry) <= 0) {
    fault(context, node, path, 'must leave air between the vanes: they close the whole rim');
  }
  return geometry;
}

function readByOpenArea(context: Context, block: Block, path: string): Geometry {
  const parameters = WHEEL_GEOMETRY.filter(
    (parameter) => parameter !== THICKNESS || childOf(block, 'thickness'),
  ).map((parameter) => (parameter.name === 'vanes' ? { ...parameter, preset: VANES_ASSUMED } : parameter));
  const geometry = readNumbers<keyof Geometry>(context, block, path, parameters);
  if (geometry.thickness !== undefined) return geometry;
  const { diameter, vanes, lean, openArea } = geometry;
  const thickness = ((1 - openArea) * Math.PI * diameter * Math.cos(lean)) / vanes;
  if (Number.isFinite(thickness)) {
    const source = 'from the open area and the number of vanes';
    const value = { value: thickness, shownIn: 'mm' };
    enter(context, join(path, 'thickness'), THICKNESS, value, { label: 'derived', source });
  }
  return { ...geometry, thickness };
}
