import type { Outcome } from '../../scenario/outcome/outcome.ts';
import type { Point } from '../../scenario/outcome/solved.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Odds } from '../odds.ts';
import type { GradeFound } from './grade-found.ts';

/** One grade at the settings put forward for it, by a search, by a sweep or by the file. */
export interface GradePoint {
  readonly name: string;
  /** At these settings, with the spec of the grade. */
  readonly scenario: Scenario;
  readonly point: Point;
  readonly outcome: Outcome;
  /** Probability of meeting the whole spec, 0…1; undefined without a spec. */
  readonly probability: number | undefined;
  readonly odds: Odds;
}

/** A grade at the point `find` names first. */
export function foundPoint({ name, answer }: GradeFound): GradePoint {
  const { scenario, point, outcome } = answer.named;
  const probability = answer.verdict ? probabilityOf(answer) : undefined;
  return { name, scenario, point, outcome, probability, odds: answer.odds };
}

/** Probability of the point named first, as `find` gives it for the grade alone. */
export function probabilityOf({ robust, likeliest, verdict }: GradeFound['answer']): number {
  if (robust?.supported) return robust.probability;
  return likeliest?.chances.whole ?? verdict?.probability ?? Number.NaN;
}
