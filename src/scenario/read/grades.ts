import type { Named } from '../expression/typed.ts';
import type { Goal, Grade, Scenario } from '../scenario.ts';
import { proposeSpeed, type Surroundings } from './default-wheel-speed.ts';
import { childOf, type Node } from './node.ts';
import { readGoal, readPlacedSpec } from './read-spec.ts';
import { asBlock, type Context, checkKeys, emptyContext, fault } from './reading-context.ts';
import type { PlacedRequirement } from './spec-sense.ts';

const MOST_GRADES = 20;
const LONGEST_NAME = 40;
/** Letters and digits first, so that no name is taken for an option or a path. */
const NAME = /^[\p{L}\p{N}][\p{L}\p{N} _-]*$/u;
const EXAMPLE = 'fine: { spec: [ "passing(90 um) >= 95 %" ] }';

/** A grade as the file states it, without what is common to all. */
interface StatedGrade {
  readonly name: string;
  readonly own: readonly PlacedRequirement[];
  readonly goal?: Goal;
}

/**
 * `grades:` — a block of named products, each with its own spec and, where it differs, its goal. A requirement that
 * contradicts another of its grade, or a common one, is a fault.
 *
 * @param common requirements that hold for every grade
 */
export function readGrades(
  context: Context,
  node: Node | undefined,
  common: readonly PlacedRequirement[],
  quantities: readonly Named[],
): readonly StatedGrade[] {
  const block = asBlock(context, node, 'grades');
  if (!block) return [];
  const { entries } = block;
  if (entries.size === 0 || entries.size > MOST_GRADES) {
    fault(context, block, 'grades', `must name 1 to ${MOST_GRADES} grades, e.g. ${EXAMPLE}`);
    return [];
  }
  return [...entries].flatMap(([name, child]) => {
    const path = `grades.${name.slice(0, LONGEST_NAME)}`;
    if (!NAME.test(name) || name.length > LONGEST_NAME)
      fault(
        context,
        child,
        path,
        `a grade's name must be 1 to ${LONGEST_NAME} letters, digits, spaces, hyphens or underscores`,
      );
    const grade = asBlock(context, child, path);
    if (!grade) return [];
    checkKeys(context, grade, path, ['spec', 'goal']);
    const spec = childOf(grade, 'spec');
    if (!spec || (spec.kind === 'list' && spec.items.length === 0))
      fault(
        context,
        spec ?? grade,
        `${path}.spec`,
        'is missing or empty; state what makes this grade, e.g. [ "passing(90 um) >= 95 %" ]',
      );
    const own = readPlacedSpec(context, spec, quantities, `${path}.spec`, common);
    const goal = readGoal(context, childOf(grade, 'goal'), quantities, `${path}.goal`);
    return [{ name, own, ...(goal ? { goal } : {}) }];
  });
}

/** What the grades have in common. */
type Common = Pick<Scenario, 'spec' | 'proposed'> & {
  readonly goal?: Goal | undefined;
  readonly wheel: string;
};

/** Every grade complete: common requirements and its own, its goal, and the wheel speed proposed for it where the file has none. */
export function gradesOf(
  stated: readonly StatedGrade[],
  { spec, goal, proposed, wheel }: Common,
  around: Surroundings,
): Readonly<Record<string, Grade>> {
  return Object.fromEntries(
    stated.map((grade, place) => {
      const whole = [...spec, ...grade.own.map(({ requirement }) => requirement)];
      const its = grade.goal ?? goal;
      const open = proposed.includes('wheelSpeed');
      return [
        grade.name,
        {
          place,
          spec: whole,
          ...(its ? { goal: its } : {}),
          ...(open ? { wheelSpeed: proposedFor(wheel, { ...around, spec: whole }) } : {}),
        },
      ];
    }),
  );
}

function proposedFor(wheel: string, around: Surroundings): NonNullable<Grade['wheelSpeed']> {
  const none = (): never => {
    throw new Error('a proposal reads no file');
  };
  const own = emptyContext({ readFile: none });
  const speed = proposeSpeed(own, 'wheelSpeed', wheel, around);
  return { speed, evidence: own.provenance['settings.wheelSpeed']!, warning: own.warnings[0]! };
}
