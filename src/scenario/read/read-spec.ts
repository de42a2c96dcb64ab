import { parseGoal, parseRequirement } from '../expression/parse-expression.ts';
import type { Named } from '../expression/typed.ts';
import type { Scenario } from '../scenario.ts';
import { isProblem } from '../units/unit-problem.ts';
import type { Node } from './node.ts';
import { type Context, fault, readText } from './reading-context.ts';
import { checkSpecSense, type PlacedRequirement } from './spec-sense.ts';

const MOST_LINES = 50;

/**
 * `spec:` — a list of requirements, each a text, with the place of each.
 *
 * @param path of the list in the file
 * @param common requirements that hold beside it
 */
export function readPlacedSpec(
  context: Context,
  node: Node | undefined,
  quantities: readonly Named[],
  path = 'spec',
  common: readonly PlacedRequirement[] = [],
): readonly PlacedRequirement[] {
  if (!node) return [];
  const items = node.kind === 'list' ? node.items : [node];
  if (node.kind === 'block' || items.length > MOST_LINES) {
    fault(
      context,
      node,
      path,
      `must be a list of at most ${MOST_LINES} requirements, e.g. [ "passing(75 um) >= 95 %" ]`,
    );
    return [];
  }
  const lines = items.flatMap((item, i) => {
    const place = `${path}[${i}]`;
    const text = readText(context, item, place);
    if (text === undefined) return [];
    const requirement = parseRequirement(text.trim(), quantities);
    if (!isProblem(requirement)) return [{ requirement, node: item, place }];
    fault(context, item, place, requirement.problem);
    return [];
  });
  checkSpecSense(context, lines, quantities, common);
  return lines;
}

/** `goal:` — what to make as large or small as may be within the spec. */
export function readGoal(
  context: Context,
  node: Node | undefined,
  quantities: readonly Named[],
  path = 'goal',
): Scenario['goal'] {
  const text = readText(context, node, path);
  if (text === undefined) return undefined;
  const goal = parseGoal(text.trim(), quantities);
  if (!isProblem(goal)) return goal;
  fault(context, node, path, goal.problem);
  return undefined;
}
