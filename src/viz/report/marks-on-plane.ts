import type { Measure } from '../../answers/measure.ts';
import { label } from '../../answers/text.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { Position } from '../../search/window/levels.ts';
import type { Mark } from '../figures/window-input.ts';
import type { ReportData } from './report-data.ts';

/** Differences named beside a mark at most. */
const NAMED = 2;

/**
 * Marks of a plane through a point. Those of other settings are left out, but for trials: a run was made where it was made,
 * and is marked with what differs.
 *
 * @param axes factors of the plane
 * @param at the other factors, in the units shown
 * @param measures factors by path, for the words of a difference
 */
export function marksOnPlane(
  marks: ReportData['marks'],
  [x, y]: readonly [string, string],
  at: Position,
  measures: ReadonlyMap<string, Measure>,
): Mark[] {
  return marks.flatMap(({ at: place, ...mark }): Mark[] => {
    const here = { ...mark, x: place[x] as number, y: place[y] as number };
    const other = Object.entries(place).filter(
      ([path, value]) => path !== x && path !== y && !sameValue(at[path], value),
    );
    if (other.length === 0) return [here];
    if (mark.kind !== 'trial') return [];
    const named = other.slice(0, NAMED).map(([path, value]) => differenceText(value, measures.get(path)));
    return [{ ...here, off: named.join(', ') + (other.length > NAMED ? ' …' : '') }];
  });
}

function differenceText(value: number | string, measure: Measure | undefined): string {
  if (typeof value === 'string') return label(value, 18);
  return `${formatNumber(value, 3)} ${measure?.unit || (measure?.name ?? '')}`.trim();
}

/** Whether two settings are one, but for rounding. */
export function sameValue(a: number | string | undefined, b: number | string | undefined): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b));
}
