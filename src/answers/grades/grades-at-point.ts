import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { type AnswerTable, columns } from '../document.ts';
import { type Odds, oddsOf } from '../odds.ts';
import { nearestOf, type Standing, standingOf } from '../standing.ts';
import { type Verdict, verdictOf } from '../verdict.ts';
import { missesText } from '../verdict-words.ts';
import { requirementWords } from '../words.ts';

/** One grade held against the settings of the file. */
export interface GradeAtPoint {
  readonly name: string;
  readonly scenario: Scenario;
  readonly standing: Standing;
  readonly verdict: Verdict;
  readonly odds: Odds;
}

/** Every grade at the settings of the file, or at those proposed for it where the file leaves the wheel speed open. */
export function gradesAtPoint(scenario: Scenario): readonly GradeAtPoint[] {
  return gradeNames(scenario).map((name) => {
    const own = scenarioOfGrade(scenario, name);
    const standing = standingOf(own);
    const odds = oddsOf(own);
    return { name, scenario: own, standing, odds, verdict: verdictOf(own, standing, odds)! };
  });
}

/** Grade by grade whether these settings meet it, and what is nearest its limit or misses. */
export function gradesAtPointTable(grades: readonly GradeAtPoint[]): AnswerTable {
  const rows = grades.map(({ name, scenario, standing, verdict }) => [
    name,
    { text: verdict.meets ? 'yes' : 'NO', fails: !verdict.meets },
    `${formatNumber(100 * verdict.probability, 3)}`,
    judgedWords(scenario, standing),
  ]);
  return { columns: columns('grade', 'met', 'probability, %', 'nearest its limit, or missed'), rows };
}

function judgedWords(scenario: Scenario, standing: Standing): string {
  if (standing.point.status === 'choked') return 'the mill chokes';
  if (!standing.meets) return `misses ${missesText(scenario, standing)}`;
  const place = nearestOf(standing);
  const margin = formatNumber(100 * standing.relative[place]!, 2);
  return `${requirementWords(scenario.spec[place]!)} (relative margin ${margin} %)`;
}
