import type { StoredStudy } from '../sweep/store/stored-study.ts';
import { recommend } from './recommend.ts';
import { answerOf } from './report-answer.ts';
import { reportJson } from './report-json.ts';
import { type StoredRows, tableFromStore } from './table-from-store.ts';

/**
 * `sweep --json`: what is in the store, and the answer that `report --json` gives of the same points.
 *
 * @param of points of the whole design; the store has fewer where it holds one part of it
 */
export function sweepSummary(
  { study, columns, size }: Pick<StoredStudy, 'study' | 'columns' | 'size'>,
  rows: StoredRows,
): Readonly<Record<string, unknown>> {
  const { scenario, plan } = study;
  const best = recommend(scenario, plan.factors, tableFromStore(scenario, plan.factors, columns, rows));
  return { ...reportJson(best, answerOf(best, scenario)), of: size, columns: columns.length };
}
