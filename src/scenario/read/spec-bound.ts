import type { Expression, Requirement } from '../expression/expression.ts';

/** One requirement as quantity, relation and constant limit [SI]. */
export interface Bound {
  readonly requirement: Requirement;
  readonly name: string;
  readonly argument?: number;
  readonly atLeast: boolean;
  readonly limit: number;
}

/** A requirement between one quantity and a number, whichever side the number is on. */
export function boundOf(requirement: Requirement): Bound | undefined {
  const { left, right, relation } = requirement;
  const greater = relation.startsWith('>');
  if (left.kind === 'quantity' && right.kind === 'number')
    return { requirement, ...named(left), atLeast: greater, limit: right.value };
  if (right.kind === 'quantity' && left.kind === 'number')
    return { requirement, ...named(right), atLeast: !greater, limit: left.value };
  return undefined;
}

function named({ name, argument }: Expression & { kind: 'quantity' }): { name: string; argument?: number } {
  return argument === undefined ? { name } : { name, argument };
}
