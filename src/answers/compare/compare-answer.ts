import { InputError } from '../../scenario/errors.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { parseValue } from '../../scenario/units/parse-quantity.ts';
import { isProblem } from '../../scenario/units/unit-problem.ts';
import { type Comparison, compareWheels } from '../../search/compare/comparison.ts';
import { type Matching, matchingOf, matchingProblem } from '../../search/compare/target.ts';

/** What wheels are matched in, as it is typed, and below which size fines are counted. */
export interface CompareWish {
  /** `x95`, or an expression. */
  readonly by: string;
  /** Its value with unit; the scenario's own where left out. */
  readonly at?: string | undefined;
  /** `10 um`. */
  readonly fines: string;
}

/** What a comparison has when nothing else is named. */
export const USUAL_COMPARISON: CompareWish = { by: 'x95', fines: '10 um' };

/** A wish that was understood. */
export interface UnderstoodWish {
  readonly matching: Matching;
  /** [m] */
  readonly fines: number;
}

/** @throws InputError that names the option which is not understood, or both */
export function understood({ by, at, fines }: CompareWish): UnderstoodWish {
  const own = matchingOf(by);
  const matching = isProblem(own) || at === undefined ? own : matchingOf(by, at);
  const size = parseValue(fines, { unit: 'm', shownIn: 'um' });
  if (isProblem(matching) || isProblem(size)) {
    const place = isProblem(own) ? '--by' : '--at';
    throw new InputError([
      ...(isProblem(matching) ? [{ place, message: matching.problem }] : []),
      ...(isProblem(size) ? [{ place: '--fines', message: size.problem }] : []),
    ]);
  }
  return { matching, fines: size.value };
}

/**
 * Every wheel of a scenario, and every rotor, at what was wished.
 *
 * @throws InputError where what is to be matched does not change with the speed of the wheel
 */
export function compared(scenario: Scenario, { matching, fines }: UnderstoodWish): Comparison {
  const unfit = matchingProblem(scenario, matching);
  if (unfit) throw new InputError([{ place: '--by', message: unfit }]);
  return compareWheels(scenario, { ...matching, fines });
}
