import { type Expression, namesIn } from '../../scenario/expression/expression.ts';
import { parseRequirement } from '../../scenario/expression/parse-expression.ts';
import { QUANTITIES, quantityNamed } from '../../scenario/outcome/quantities.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { isProblem, type Problem, problem } from '../../scenario/units/unit-problem.ts';
import { type Target, valuesOver } from './match.ts';

/** What wheels can be matched in: a quantity or an expression, and the value where one is stated [SI]. */
export type Matching = Omit<Target, 'value'> & { readonly value?: number };

/**
 * What wheels are to be matched in, from its text.
 *
 * @param text a quantity or an expression over quantities: `x95`, `passing(75 um)`, `x90/x10`
 * @param at its value with unit, `65 um`; the scenario's own unless given
 * @returns the problem in words where it is not understood
 * @example matchingOf('passing(75 um)', '60 %')
 */
export function matchingOf(text: string, at?: string): Matching | Problem {
  const known = quantityNamed(text);
  if (known && known.argument === undefined && at === undefined) return { quantity: text };
  const own = parseRequirement(`${text} >= ${at ?? `(${text})`}`, QUANTITIES);
  if (isProblem(own)) return own;
  const number = numberOf(own.right);
  if (at !== undefined && number === undefined) return problem(`must be a number with its unit, is "${at}"`);
  const value = at === undefined || number === undefined ? {} : { value: number };
  if (known && known.argument === undefined) return { quantity: text, ...value };
  return { quantity: text, expression: own.left, shownIn: own.shownIn, ...value };
}

function numberOf(expression: Expression): number | undefined {
  if (expression.kind === 'number') return expression.value;
  return expression.kind === 'negate' && expression.of.kind === 'number' ? -expression.of.value : undefined;
}

/** Least relative change over the speeds of a wheel with which a quantity is said to move with it. */
const MOVES = 1e-6;

/**
 * Why wheels cannot be matched in a quantity: it does not change with the speed of the wheel, or the mill chokes at every
 * speed.
 */
export function matchingProblem(scenario: Scenario, matching: Matching): string | undefined {
  const { quantity, expression } = matching;
  const names = expression ? namesIn(expression) : [quantity];
  if (names.every((name) => name === 'wheelSpeed' || name === 'wheelSpeedUse'))
    return `wheels matched in ${quantity} turn at a speed that is given, so nothing is matched; name what the product shall have in common, e.g. x95, "passing(75 um)" or x90/x10`;
  const values = valuesOver(scenario, scenario.settings.wheel, matching).filter(Number.isFinite);
  if (values.length === 0) return undefined;
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (high - low > MOVES * Math.max(Math.abs(low), Math.abs(high))) return undefined;
  return `${quantity} does not change with the speed of the wheel, so wheels cannot be matched in it; name a size or a share of the product, e.g. x95, "passing(75 um)" or x90/x10`;
}
