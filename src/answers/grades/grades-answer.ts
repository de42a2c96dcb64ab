import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import { type Budget, budgetOf } from '../../search/next/budget.ts';
import { findAnswer, searchable } from '../find/find-answer.ts';
import type { GradeFound } from './grade-found.ts';
import { type RunOrder, runOrder } from './run-order.ts';
import { runPoints } from './run-points.ts';
import { type SharedSettings, sharedSettings } from './shared-settings.ts';
import { type WheelSets, wheelSets } from './wheels-for-grades.ts';

/** What `find` answers for a file with grades. */
export interface GradesAnswer {
  readonly scenario: Scenario;
  readonly grades: readonly GradeFound[];
  readonly shared: readonly SharedSettings[];
  readonly wheels: WheelSets;
  /** The order to run them in; undefined for more grades than are ordered. */
  readonly order: RunOrder | undefined;
  readonly budget: Budget;
}

/**
 * Every grade answered as a file of its own would be, then what the grades can share.
 *
 * @param confidence 0…1, where one is required
 * @throws InputError where a grade cannot be searched for
 */
export function gradesAnswer(scenario: Scenario, seed: number, confidence: number | undefined): GradesAnswer {
  const problems = gradeNames(scenario).map((name) => ({
    name,
    problem: searchable(scenarioOfGrade(scenario, name), confidence !== undefined),
  }));
  const grades = problems.map(({ name, problem }): GradeFound => {
    const answer = findAnswer(problem, seed, confidence);
    const found = confidence === undefined ? answer.nominal.meets : answer.robust?.supported === true;
    return { name, answer, found };
  });
  const budget = budgetOf(scenario, Number.POSITIVE_INFINITY);
  const points = runPoints(grades);
  const runs = grades.map(({ name }, k) => ({ name, scenario: points[k]!.scenario }));
  return {
    scenario,
    grades,
    shared: sharedSettings(grades, seed),
    wheels: wheelSets(grades),
    order: runOrder(runs, budget),
    budget,
  };
}
