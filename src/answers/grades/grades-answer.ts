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
 * Every grade answered as a file of its own would be.
 *
 * @param confidence 0…1, where one is required
 * @throws InputError where a grade cannot be searched for
 */
export function gradesFound(
  scenario: Scenario,
  seed: number,
  confidence: number | undefined,
): readonly GradeFound[] {
  const problems = gradeNames(scenario).map((name) => ({
    name,
    problem: searchable(scenarioOfGrade(scenario, name), confidence !== undefined),
  }));
  return problems.map(({ name, problem }) => {
    const answer = findAnswer(problem, seed, confidence);
    const found = confidence === undefined ? answer.nominal.meets : answer.robust?.supported === true;
    return { name, answer, found };
  });
}

/** The order of the visit, each grade at the point it is run at; undefined for more grades than are ordered. */
export function orderOf(grades: readonly GradeFound[], budget: Budget): RunOrder | undefined {
  const points = runPoints(grades);
  return runOrder(
    grades.map(({ name }, k) => ({ name, scenario: points[k]!.scenario })),
    budget,
  );
}

/** Every grade, then what the grades can share and the order to run them in. */
export function gradesAnswer(scenario: Scenario, seed: number, confidence: number | undefined): GradesAnswer {
  const grades = gradesFound(scenario, seed, confidence);
  const budget = budgetOf(scenario, Number.POSITIVE_INFINITY);
  return {
    scenario,
    grades,
    shared: sharedSettings(grades, seed),
    wheels: wheelSets(grades),
    order: orderOf(grades, budget),
    budget,
  };
}
