import type { Expression, Requirement } from '../../scenario/expression/expression.ts';
import { parseGoal } from '../../scenario/expression/parse-expression.ts';
import { QUANTITIES, quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Quantity } from '../../scenario/outcome/quantity.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';

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

/**
 * A quantity as a user names it: `x95`, `passing(10 um)`.
 *
 * @returns undefined where nothing has this name, or what it needs is not said
 */
export function storedQuantity(text: string): StoredQuantity | undefined {
  const known = quantityNamed(text);
  if (known) return known.argument === undefined ? { quantity: known } : undefined;
  const read = parseGoal(`maximise ${text}`, QUANTITIES);
  if (isProblem(read) || read.expression.kind !== 'quantity') return undefined;
  const { name, argument } = read.expression;
  return { quantity: quantityNamed(name)!, ...(argument === undefined ? {} : { argument }) };
}

/** Quantities of a list each once, `passing(75 um)` and `passing(0.075 mm)` being one. */
export function eachOnce(all: readonly StoredQuantity[]): StoredQuantity[] {
  const found = new Map(all.map((each) => [`${each.quantity.name} ${each.argument?.toPrecision(12)}`, each]));
  return [...found.values()];
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
