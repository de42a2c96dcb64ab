import type { Component, Material } from '../../model/case.ts';
import { EVAPORATION } from '../../model/parameters/loop.ts';
import { MATERIAL, SHARE } from '../../model/parameters/material-parameters.ts';
import { formatNumber } from '../units/display.ts';
import { checkFragments } from './ascending.ts';
import { namesOf, readNumbers } from './block.ts';
import { readFeed } from './feed.ts';
import { FRAGMENT_LAWS, SELECTION_LAWS } from './laws.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import { readLaw } from './read-law.ts';
import { asBlock, type Context, checkKeys, fault, join, missing, readText } from './reading-context.ts';

const MOST_COMPONENTS = 8;
/** Rounding allowed in shares that should add up to one. */
const SHARE_ROUNDING = 1e-6;
const MATERIAL_KEYS = ['name', 'description', ...namesOf(MATERIAL), 'evaporation', 'selection', 'fragments'];

/** The solids fed, and the water that evaporates from them by mass of feed. */
interface Feedstock {
  readonly components: readonly Component[];
  readonly evaporation: number;
}

/** `material:` with `feed:`, or `components:` with a share each. */
export function readFeedstock(context: Context, root: Block): Feedstock {
  const list = childOf(root, 'components');
  if (!list) {
    const solid = readSolid(context, childOf(root, 'material'), 'material');
    const feed = readFeed(context, childOf(root, 'feed'), 'feed');
    return { components: [{ share: 1, material: solid.material, feed }], evaporation: solid.evaporation };
  }
  for (const key of ['material', 'feed']) {
    const other = childOf(root, key);
    if (other)
      fault(context, other, key, 'must not be given together with components; give each component its own');
  }
  if (list.kind !== 'list' || list.items.length === 0 || list.items.length > MOST_COMPONENTS) {
    fault(context, list, 'components', `must be a list of 1 to ${MOST_COMPONENTS} { share, material, feed }`);
    return { components: [], evaporation: 0 };
  }
  const read = list.items.map((item, i) => readComponent(context, item, `components.${i}`));
  const sum = read.reduce((total, { component }) => total + component.share, 0);
  if (Math.abs(sum - 1) > SHARE_ROUNDING) {
    fault(
      context,
      list,
      'components',
      `component shares add up to ${formatNumber(100 * sum, 6)} %, must be 100 %`,
    );
  }
  return {
    components: read.map(({ component }) => ({ ...component, share: component.share / sum })),
    evaporation: read.reduce(
      (total, { component, evaporation }) => total + (component.share / sum) * evaporation,
      0,
    ),
  };
}

function readComponent(
  context: Context,
  node: Node,
  path: string,
): { readonly component: Component; readonly evaporation: number } {
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, ['share', 'material', 'feed']);
  const share = readNumber(context, childOf(block, 'share'), join(path, 'share'), SHARE) ?? Number.NaN;
  const { material, evaporation } = readSolid(context, childOf(block, 'material'), join(path, 'material'));
  const feed = readFeed(context, childOf(block, 'feed'), join(path, 'feed'));
  return { component: { share, material, feed }, evaporation };
}

function readSolid(
  context: Context,
  node: Node | undefined,
  path: string,
): { readonly material: Material; readonly evaporation: number } {
  if (!node)
    missing(context, node, path, 'must be given, e.g. { from: organic-crystal, density: 1450 kg/m^3 }');
  const block = asBlock(context, node, path);
  checkKeys(context, block, path, MATERIAL_KEYS);
  readText(context, childOf(block, 'description'), join(path, 'description'));
  const name = readText(context, childOf(block, 'name'), join(path, 'name'), 200) ?? 'unnamed';
  if (!block) return { material: { name } as Material, evaporation: 0 };
  const numbers = readNumbers<'density' | 'sphericity' | 'heatCapacity'>(context, block, path, MATERIAL);
  const evaporation =
    readNumber(context, childOf(block, 'evaporation'), join(path, 'evaporation'), EVAPORATION) ?? 0;
  const law = (key: string, laws: typeof SELECTION_LAWS | typeof FRAGMENT_LAWS) =>
    readLaw(context, childOf(block, key), join(path, key), laws);
  const fragments = law('fragments', FRAGMENT_LAWS);
  checkFragments(context, childOf(block, 'fragments'), join(path, 'fragments'), fragments);
  return {
    material: {
      name,
      ...numbers,
      selection: law('selection', SELECTION_LAWS),
      fragments,
    },
    evaporation,
  };
}
