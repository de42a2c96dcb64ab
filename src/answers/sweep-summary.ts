import { gradeNames } from '../scenario/scenario-of-grade.ts';
import type { StoredStudy } from '../sweep/store/stored-study.ts';
import { sweepOfGrade } from './grades/grade-of-sweep.ts';
import { recommend } from './recommend.ts';
import { answerOf } from './report-answer.ts';
import { reportJson } from './report-json.ts';
import { type StoredRows, tableFromStore } from './table-from-store.ts';

/**
 * `sweep --json`: what is in the store, and the answer that `report --json` gives of the same points; of grades that of each.
 *
 * @param of points of the whole design; the store has fewer where it holds one part of it
 */
export function sweepSummary(
  { study, columns, size }: Pick<StoredStudy, 'study' | 'columns' | 'size'>,
  rows: StoredRows,
): Readonly<Record<string, unknown>> {
  const { scenario, plan } = study;
  if (scenario.grades) {
    const grades = gradeNames(scenario).map((name) => {
      const own = sweepOfGrade({ study, columns }, name);
      return [name, sweepSummary({ ...own, size }, rows)] as const;
    });
    return { grades: Object.fromEntries(grades), of: size, columns: columns.length };
  }
  const best = recommend(scenario, plan.factors, tableFromStore(scenario, plan.factors, columns, rows));
  return { ...reportJson(best, answerOf(best, scenario)), of: size, columns: columns.length };
}
