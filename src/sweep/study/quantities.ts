import type { Expression, Requirement } from '../../scenario/expression/expression.ts';
import { QUANTITIES, quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Quantity } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';

/** A quantity to store, with the argument of those that take one, SI. */
export interface StoredQuantity {
  readonly quantity: Quantity;
  readonly argument?: number;
}

/**
 * What a sweep stores unless told otherwise: every result that needs no argument; those of the plant where the scenario has
 * one.
 */
export function defaultQuantities({ blocks }: Scenario): string[] {
  const left = new Set(['settings', ...(blocks.plant ? [] : ['plant'])]);
  return QUANTITIES.filter(({ argument, group }) => argument === undefined && !left.has(group)).map(
    ({ name }) => name,
  );
}

/** The settings, known of choked points too. */
export const SETTINGS: readonly Quantity[] = QUANTITIES.filter(({ group }) => group === 'settings');

/** Quantities with an argument that a spec speaks of, e.g. passing(75 um), each once. */
export function quantitiesOfSpec(spec: readonly Requirement[]): StoredQuantity[] {
  const found = new Map<string, StoredQuantity>();
  const visit = (expression: Expression): void => {
    if (expression.kind === 'quantity' && expression.argument !== undefined) {
      const { name, argument } = expression;
      found.set(`${name}(${argument})`, { quantity: quantityNamed(name)!, argument });
    } else if (expression.kind === 'negate') visit(expression.of);
    else if (expression.kind === 'binary') {
      visit(expression.left);
      visit(expression.right);
    }
  };
  for (const { left, right } of spec) {
    visit(left);
    visit(right);
  }
  return [...found.values()];
}
