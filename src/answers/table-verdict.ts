import { type LevelGrid, type Position, valueAtPosition } from '../search/window/levels.ts';
import { listed } from './join-words.ts';
import { isMachineLimit, type SweepTable } from './sweep-table.ts';

/** Whether the spec is met at a position between the points of a sweep, straight between them. */
export function tableVerdict(table: SweepTable, grid: LevelGrid, at: Position): string {
  if (!table.limits.some(({ kind }) => kind === 'requirement')) return 'no spec to meet.';
  const margins = table.limits.map((limit) => ({ limit, margin: valueAtPosition(grid, limit.values, at) }));
  if (margins.some(({ margin }) => Number.isNaN(margin))) return 'it chokes here, or near here.';
  const failing = margins.filter(({ margin }) => margin < 0);
  if (failing.length === 0) return 'meets the whole spec.';
  return `misses ${listed(failing.map(({ limit }) => limit.words))}.`;
}

/** What a place inside the heavy line does: without a spec it is within the limits of the machine, and no more is said. */
export function meetsWords({ limits }: { readonly limits: readonly { readonly name: string }[] }): {
  readonly each: string;
  readonly all: string;
  /** On the plane itself, in two lines. */
  readonly label: string;
} {
  return limits.length > 0 && limits.every(({ name }) => isMachineLimit(name))
    ? {
        each: 'is within the limits of the machine',
        all: 'are within the limits of the machine',
        label: 'within the limits\nof the machine',
      }
    : { each: 'meets the whole spec', all: 'meet the whole spec', label: 'meets the\nwhole spec' };
}
