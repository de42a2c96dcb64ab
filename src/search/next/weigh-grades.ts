import type { Matrix } from 'ml-matrix';
import type { Method } from '../../scenario/measurement/measured-sample.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Posterior } from '../../trials/fit/fit.ts';
import { plannedTrial } from './candidate-trial.ts';
import { covarianceAfter } from './choose.ts';
import { type Answer, answerAt, doubtOf } from './decision.ts';

/** A grade at the settings it would be run at, with its spec. */
interface GradeToRun {
  readonly name: string;
  readonly scenario: Scenario;
}

/** What the run of one grade would tell of all of them. */
interface GradeTold {
  readonly name: string;
  /** Standard error of the answer of each grade once this run is in, in the order of the grades. */
  readonly after: readonly number[];
  /** Of all answers together: root of the sum of squares. */
  readonly total: number;
}

export interface GradesWeighed {
  /** Standard error of the answer of each grade now. */
  readonly before: readonly number[];
  readonly total: number;
  /** The run that tells most first; a run at which the mill would choke is left out. */
  readonly runs: readonly GradeTold[];
}

/**
 * Weighs one run a grade by what it tells of all grades, since one set of coefficients serves them all: with C the covariance of
 * the coefficients and JᵀJ the information of a run, the answers are left with C′ = (C⁻¹ + JᵀJ)⁻¹.
 *
 * @param posterior what is known now: a calibration, or the prior
 */
export function weighGrades(
  grades: readonly GradeToRun[],
  posterior: Posterior,
  method: Method,
): GradesWeighed {
  const answers = grades.map(({ scenario }) => answerAt(scenario, posterior));
  const runs = grades.flatMap(({ name, scenario }): GradeTold[] => {
    const trial = plannedTrial(scenario, posterior, method);
    if (!trial) return [];
    const left = covarianceAfter(posterior.covariance, trial.information);
    return [{ name, after: errorsOf(answers, left), total: totalOf(answers, left) }];
  });
  const { covariance } = posterior;
  return {
    before: errorsOf(answers, covariance),
    total: totalOf(answers, covariance),
    runs: runs.sort((a, b) => a.total - b.total),
  };
}

function errorsOf(answers: readonly Answer[], covariance: Matrix): number[] {
  return answers.map((answer) => Math.sqrt(doubtOf(answer, covariance)));
}

function totalOf(answers: readonly Answer[], covariance: Matrix): number {
  return Math.sqrt(answers.reduce((sum, answer) => sum + doubtOf(answer, covariance), 0));
}
