import type { Parameter } from '../../model/parameters.ts';
import { childOf, type Node } from './node.ts';
import { readNumber } from './number.ts';
import type { Context } from './reading-context.ts';
import { join } from './reading-context.ts';

/**
 * The numbers of one block, each under its parameter's name; absent optional ones stay absent. Faults leave their keys
 * out as well: the reading as a whole then fails.
 */
export function readNumbers<K extends string = string>(
  context: Context,
  block: Node | undefined,
  path: string,
  parameters: readonly Parameter[],
): { [key in K]: number } {
  const neighbours: Record<string, number> = {};
  for (const parameter of parameters) {
    const node = childOf(block, parameter.name);
    const value = readNumber(context, node, join(path, parameter.name), parameter, {
      uncertain: { neighbours },
    });
    if (value !== undefined) neighbours[parameter.name] = value;
  }
  return neighbours as { [key in K]: number };
}

/** Names of parameters, for the check of keys. */
export function namesOf(parameters: readonly Parameter[]): string[] {
  return parameters.map((parameter) => parameter.name);
}
