import { lawFaults } from '../outside/laws-used.ts';
import { overrideValues } from './apply-set.ts';
import { type Files, namedBy } from './files.ts';
import { type Block, blockOf, childOf, type Node, textOf } from './node.ts';
import { type Context, fault, readText } from './reading-context.ts';
import { readYaml } from './yaml.ts';

/** The scenario with the values of its calibration laid over it, and the calibration as plain data. */
export interface Calibrated {
  readonly root: Block;
  readonly calibration?: Readonly<Record<string, unknown>>;
}

/** Which side of a calibration a path belongs to: the material's, or the machine's. */
export function sideOf(path: string): 'material' | 'machine' {
  return /^(material|components|feed)\./.test(path) ? 'material' : 'machine';
}

/**
 * `calibration: FILE` — takes the values a fit wrote (`values: { path: { value, label, source } }`) into the scenario;
 * the rest of the file is kept as it is. Of a calibration made with another material only the machine's values are taken,
 * of one made on another machine only the material's; `takenUp` says which.
 *
 * @param named the scenario that names the calibration: with the values of the command line, which may name another
 * @param expanded lays out a scenario's `from:` entries, so that material and machine have their names
 */
export function takeUpCalibration(
  context: Context,
  root: Block,
  files: Files,
  named: Block,
  expanded: (root: Block) => Block,
): Calibrated {
  const node = childOf(named, 'calibration');
  const name = readText(context, node, 'calibration', 400);
  if (name === undefined) return { root };
  let text: string;
  try {
    text = files.readFile(name, namedBy(node?.origin));
  } catch (error) {
    fault(context, node, 'calibration', `${name} cannot be read: ${(error as Error).message}`);
    return { root };
  }
  const read = readYaml(text, { name, kind: 'calibration' });
  context.faults.push(...read.faults);
  const values = childOf(read.node, 'values');
  if (read.node?.kind !== 'block' || values?.kind !== 'block') {
    if (read.faults.length === 0)
      fault(context, node, 'calibration', `${name} must be a file that fit wrote: it has no values`);
    return { root };
  }
  const calibration = plain(read.node) as Record<string, unknown>;
  for (const { message } of lawFaults(name, 'fitted', 'fit again', calibration.laws))
    fault(context, node, 'calibration', `${name} ${message}`);
  const takenUp = sidesOf(calibration, expanded(named));
  const used = [...values.entries].filter(([path]) => takenUp[sideOf(path)]);
  return {
    root: overrideValues(root, blockOf(used, values)),
    calibration: { ...calibration, takenUp, ...(files.version ? { readBy: files.version } : {}) },
  };
}

/** Code of the warning that a calibration was left out. */
export const LEFT_OUT = 'calibration-left-out';

/** The scenario with its own coefficients, where a calibration is named and not wanted. */
export function leaveCalibrationOut(context: Context, root: Block, named: Block): Calibrated {
  const name = readText(context, childOf(named, 'calibration'), 'calibration', 400);
  if (name !== undefined)
    context.warnings.push({
      code: LEFT_OUT,
      message: `calibration: ${name} is left out: a fit starts from the file's own coefficients`,
    });
  return { root };
}

/** Whether a calibration is of the scenario's material, and of its machine; a file that does not say is of both. */
function sidesOf(calibration: Record<string, unknown>, root: Block): { material: boolean; machine: boolean } {
  const of = calibration.of as { materials?: unknown; machine?: unknown } | undefined;
  const materials = namesOfMaterials(root);
  const machine = textOf(childOf(root, 'machine'), 'name') ?? UNNAMED;
  return {
    material: !Array.isArray(of?.materials) || alike(of.materials.map(String), materials),
    machine: typeof of?.machine !== 'string' || alike([of.machine], [machine]),
  };
}

/** What a material or machine without a name is called. */
const UNNAMED = 'unnamed';

function namesOfMaterials(root: Block): string[] {
  const components = childOf(root, 'components');
  const solids = components?.kind === 'list' ? components.items : [root];
  return solids.map((solid) => textOf(childOf(solid, 'material'), 'name') ?? UNNAMED);
}

function alike(one: readonly string[], other: readonly string[]): boolean {
  const plainly = (name: string): string => name.trim().toLowerCase().replace(/\s+/g, ' ');
  return one.length === other.length && one.every((name, i) => plainly(name) === plainly(other[i]!));
}

/** Nodes as plain data: numbers where a text is one. */
function plain(node: Node): unknown {
  switch (node.kind) {
    case 'leaf':
      return plainLeaf(node.text);
    case 'list':
      return node.items.map(plain);
    case 'block':
      return Object.fromEntries([...node.entries].map(([key, child]) => [key, plain(child)]));
  }
}

function plainLeaf(text: string): unknown {
  if (/^-?\d+(\.\d+)?([eE][+-]?\d+)?$/.test(text)) return Number(text);
  if (text === 'true' || text === 'false') return text === 'true';
  return text === 'null' ? null : text;
}
