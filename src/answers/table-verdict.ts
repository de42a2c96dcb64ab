import { type LevelGrid, type Position, valueAtPosition } from '../search/window/levels.ts';
import { listed } from './join-words.ts';
import type { SweepTable } from './sweep-table.ts';

/** Whether the spec is met at a position between the points of a sweep, straight between them. */
export function tableVerdict(table: SweepTable, grid: LevelGrid, at: Position): string {
  if (!table.limits.some(({ kind }) => kind === 'requirement')) return 'no spec to meet.';
  const margins = table.limits.map((limit) => ({ limit, margin: valueAtPosition(grid, limit.values, at) }));
  if (margins.some(({ margin }) => Number.isNaN(margin))) return 'it chokes here, or near here.';
  const failing = margins.filter(({ margin }) => margin < 0);
  if (failing.length === 0) return 'meets the whole spec.';
  return `misses ${listed(failing.map(({ limit }) => limit.words))}.`;
}
