import { type Expression, evaluate, namesIn, type Requirement } from '../expression/expression.ts';
import { quantityNamed } from './quantities.ts';
import type { Solved } from './quantity.ts';
import { ADDED } from './quantity.ts';

/** Value of an expression at a solved point, SI. */
export function expressionValue(expression: Expression, solved: Solved): number {
  return evaluate(expression, (name, argument) => quantityNamed(name)!.of(solved, argument));
}

/**
 * Margin of one requirement, SI: left − right for ≥ and >, right − left for ≤ and <; NaN where a side does not exist.
 */
export function marginOf(requirement: Requirement, solved: Solved): number {
  const gap = expressionValue(requirement.left, solved) - expressionValue(requirement.right, solved);
  return requirement.relation.startsWith('>') ? gap : -gap;
}

/** Whether a margin meets its relation; a missing or infinite one never does. */
export function isMet(requirement: Requirement, margin: number): boolean {
  if (!Number.isFinite(margin)) return false;
  return requirement.relation.length === 2 ? margin >= 0 : margin > 0;
}

/** What is to be read off a point. */
interface Asked {
  readonly spec?: readonly Requirement[];
  readonly goal?: { readonly expression: Expression };
  /** Names of quantities. */
  readonly quantities?: readonly string[];
}

/** Whether anything asked is read, or (from outside) may be read, off the feed at choke, whose search costs half a solve more (`choke` of `solve`). */
export function asksFeedAtChoke({ spec = [], goal, quantities = [] }: Asked): boolean {
  const expressions = spec.flatMap(({ left, right }) => [left, right]);
  if (goal) expressions.push(goal.expression);
  const names = [...quantities, ...expressions.flatMap(namesIn)];
  return names.some((name) => {
    const quantity = quantityNamed(name);
    return quantity?.ofFeedAtChoke !== undefined || quantity?.group === ADDED;
  });
}
