import type { Requirement } from '../../scenario/expression/expression.ts';
import { judge, type SpecResult } from '../../scenario/outcome/spec-result.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { type FindOptions, type FoundPoint, findSettings } from './find.ts';
import type { Effort } from './optimise.ts';
import type { SearchSpace } from './space.ts';

/** How far one line of the spec would have to give for the rest of it to be met. */
export interface Relaxed {
  readonly line: SpecResult;
  /** Settings that meet every other line and come nearest to this one. */
  readonly point: FoundPoint;
}

const LIGHT: Effort = { points: 192, population: 24, generations: 36, starts: 2 };

/**
 * Where nothing meets the spec: for each line alone, the best it can reach while all others hold. A line that cannot save the
 * rest is left out.
 */
export function relaxedLines(
  scenario: Scenario,
  space: SearchSpace,
  seed?: number,
  effort: Effort = LIGHT,
): Relaxed[] {
  return scenario.spec.flatMap((line, k) => {
    const others = scenario.spec.filter((_, i) => i !== k);
    const found = findSettings({ ...scenario, spec: others }, space, {
      goal: marginGoal(line),
      effort,
      ...(seed === undefined ? {} : { seed }),
    });
    if (!found.meets) return [];
    const { point } = found.best;
    if (point.status === 'choked') return [];
    return [{ line: judge([line], point)[0]!, point: found.best }];
  });
}

/** The margin of a line, as a goal. */
function marginGoal({ left, right, relation }: Requirement): NonNullable<FindOptions['goal']> {
  return {
    sense: relation.startsWith('>') ? 'maximise' : 'minimise',
    expression: { kind: 'binary', operator: '-', left, right },
  };
}
