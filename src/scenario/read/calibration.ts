import { overrideValues } from './apply-set.ts';
import { type Context, fault, readText } from './context.ts';
import type { Files } from './files.ts';
import { type Block, childOf, type Node } from './node.ts';
import { readYaml } from './yaml.ts';

/** The scenario with the values of its calibration laid over it, and the calibration as plain data. */
export interface Calibrated {
  readonly root: Block;
  readonly calibration?: Readonly<Record<string, unknown>>;
}

/**
 * `calibration: FILE` — takes the values a fit wrote (`values: { path: { value, label, source } }`) into the scenario;
 * the rest of the file is kept as it is.
 *
 * @param named the scenario that names the calibration: with the values of the command line, which may name another
 */
export function takeUpCalibration(context: Context, root: Block, files: Files, named: Block): Calibrated {
  const node = childOf(named, 'calibration');
  const name = readText(context, node, 'calibration', 400);
  if (name === undefined) return { root };
  let text: string;
  try {
    text = files.readFile(name, node?.origin.kind === 'file' ? node.origin.name : undefined);
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
  return { root: overrideValues(root, values), calibration: plain(read.node) as Record<string, unknown> };
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
