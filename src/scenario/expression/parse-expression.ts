import type { MathNode } from 'mathjs';
import { isPure, sameBase } from '../units/dimension.ts';
import { isShownUnit, siUnitOf } from '../units/display.ts';
import { isolatedMath } from '../units/mathjs.ts';
import { plainSymbols, plainUnit } from '../units/normalise.ts';
import { quoted } from '../units/parse-quantity.ts';
import { isProblem, type Problem, problem } from '../units/unit-problem.ts';
import type { Expression, Requirement } from './expression.ts';
import { simpleTree } from './simple-tree.ts';
import { translate } from './translate.ts';
import type { Named, Typed } from './typed.ts';

const TURNED = { '>=': '<=', '<=': '>=', '>': '<', '<': '>' } as const;
const LONGEST = 300;
const RELATIONS = { largerEq: '>=', smallerEq: '<=', larger: '>', smaller: '<' } as const;
const PERCENTILE_POINT = /\bx(\d{1,2})\.(\d{1,4})\b/g;

/** A goal: what to make as large or as small as may be. */
export interface ParsedGoal {
  readonly text: string;
  readonly sense: 'maximise' | 'minimise';
  readonly expression: Expression;
}

/**
 * Reads one line of a spec: two sides over quantities and one comparison.
 *
 * @param quantities every quantity that can be named; percentiles such as x97.5 come with them
 * @returns the requirement in SI, or the problem in words
 * @example parseRequirement('passing(75 um) >= 95 %', QUANTITIES)
 */
export function parseRequirement(text: string, quantities: readonly Named[]): Requirement | Problem {
  const tree = parseTree(text);
  if (isProblem(tree)) return tree;
  const node = tree as MathNode & { fn?: string; args?: MathNode[] };
  if (node.type === 'RelationalNode')
    return problem('must have one comparison; write two requirements instead');
  const relation = node.type === 'OperatorNode' ? RELATIONS[node.fn as keyof typeof RELATIONS] : undefined;
  if (!relation || node.args?.length !== 2) {
    return problem(`must compare with >=, <=, > or <, e.g. "passing(75 um) >= 95 %"; is ${quoted(text)}`);
  }
  const left = translate(node.args[0]!, quantities);
  if (isProblem(left)) return left;
  const right = translate(node.args[1]!, quantities);
  if (isProblem(right)) return right;
  const mismatch = compare(left, right);
  if (mismatch) return mismatch;
  if (!left.names.length && !right.names.length) return problem(`must name a quantity; is ${quoted(text)}`);
  const shownIn = shownUnit(text, left, right, quantities);
  // what is required stands on the left, its limit on the right, whichever way it was typed
  return left.names.length > 0
    ? { text, relation, left: left.expression, right: right.expression, shownIn }
    : { text, relation: TURNED[relation], left: right.expression, right: left.expression, shownIn };
}

/**
 * Reads a goal: `maximise feedRate`, `minimise specificEnergy`.
 *
 * @returns sense and expression in SI, or the problem in words
 */
export function parseGoal(text: string, quantities: readonly Named[]): ParsedGoal | Problem {
  const match = /^\s*(maximi[sz]e|minimi[sz]e)\s+(.+)$/s.exec(text);
  if (!match) {
    return problem(`must be "maximise" or "minimise" and what, e.g. "maximise feedRate"; is ${quoted(text)}`);
  }
  const tree = parseTree(match[2]!);
  if (isProblem(tree)) return tree;
  const typed = translate(tree, quantities);
  if (isProblem(typed)) return typed;
  if (typed.names.length === 0) return problem(`must name a quantity; is ${quoted(text)}`);
  return { text, sense: match[1]!.startsWith('max') ? 'maximise' : 'minimise', expression: typed.expression };
}

/** Text → tree, nothing evaluated; what the grammar of specs has no use for is refused before the parser sees it. */
function parseTree(text: string): MathNode | Problem {
  if (text.length > LONGEST) return problem(`must have at most ${LONGEST} characters, has ${text.length}`);
  const plain = plainSymbols(text)
    .replace(PERCENTILE_POINT, 'x$1_$2')
    .replace(/\b(?:m2|m3|cm2|cm3)\b/g, (unit) => plainUnit(unit));
  if (/\d,\d/.test(plain))
    return problem(`use a decimal point and no thousands separator, is ${quoted(text)}`);
  const odd = /[^\w\s.%()+\-*/^<>]|(?<![<>])=|\b0[xbo]/i.exec(plain.replace(/[<>]=/g, '<'));
  if (odd) {
    return problem(
      `may hold numbers with units, quantities, + - * / ( ) and one comparison; not ${quoted(odd[0])}`,
    );
  }
  if ((plain.match(/\(/g)?.length ?? 0) > 20) return problem('is nested too deep');
  try {
    return simpleTree(plain) ?? isolatedMath().parse(plain);
  } catch {
    return problem(`is not understood: ${quoted(text)}`);
  }
}

function compare(left: Typed, right: Typed): Problem | undefined {
  if (!sameBase(left.dimension, right.dimension)) {
    return problem(`must compare like with like, but one side is ${left.kind} and the other ${right.kind}`);
  }
  if (left.dimension.absolute !== right.dimension.absolute) {
    return problem(
      'must compare a temperature with a temperature (degC), or a difference with a difference (K)',
    );
  }
  return undefined;
}

/** The unit the user wrote in the limit, where the program can show it; else the quantity's own. */
function shownUnit(text: string, left: Typed, right: Typed, quantities: readonly Named[]): string {
  const named = left.names.length > 0 ? left : right;
  const limit = named === left ? right : left;
  const quantity = quantities.find(({ name }) => name === named.names[0]);
  const si =
    quantity && named.expression.kind === 'quantity' ? quantity.unit : (limit.unit ?? named.unit ?? '1');
  if (isPure(limit.dimension) && /%/.test(text.replace(/\([^)]*\)/g, ''))) return '%';
  if (limit.unit && isShownUnit(limit.unit) && (siUnitOf(limit.unit) === si || !quantity)) return limit.unit;
  if (named.dimension.absolute) return 'degC';
  if (quantity && named.expression.kind === 'quantity') return quantity.shownIn;
  if (named.expression.kind === 'quantity') return 'um';
  return isShownUnit(si) ? si : '1';
}
