import type { Measure } from '../../answers/measure.ts';
import { label } from '../../answers/text.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import type { Position } from '../../search/window/levels.ts';
import type { Mark } from '../figures/window-input.ts';
import type { ReportData } from './report-data.ts';

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
  axes: readonly [x: string, y: string],
  at: Position,
  measures: ReadonlyMap<string, Measure>,
): Mark[] {
  const [x, y] = axes;
  const words = (path: string, value: number | string) => valueWords(value, measures.get(path));
  return marks.flatMap((mark): Mark[] => {
    if (mark.kind === 'trial') return trialMarks([mark], axes, at, words);
    const { at: place, ...own } = mark;
    const here = Object.entries(place).every(
      ([path, value]) => path === x || path === y || sameValue(at[path], value),
    );
    return here ? [{ ...own, x: place[x] as number, y: place[y] as number }] : [];
  });
}

/** Settings this close count as the same: a panel is set by hand. */
const CLOSE = 0.03;

/**
 * Measured runs on a plane: on it where every other setting agrees, else away, with what differs most in its name.
 *
 * @param words a value of a path as it is read, e.g. `300 kg/h`
 */
export function trialMarks(
  trials: readonly { readonly name: string; readonly at: Position }[],
  [x, y]: readonly [string, string],
  at: Position,
  words: (path: string, value: number | string) => string,
): Mark[] {
  return trials.map(({ name, at: there }): Mark => {
    const apart = Object.entries(there)
      .filter(([path]) => path !== x && path !== y)
      .map(([path, value]) => ({ path, value, by: differenceOf(at[path], value) }))
      .filter(({ by }) => by > CLOSE)
      .sort((a, b) => b.by - a.by);
    const place = { x: there[x] as number, y: there[y] as number };
    const [most] = apart;
    return most
      ? { kind: 'away', name: `${name} (${words(most.path, most.value)})`, ...place }
      : { kind: 'trial', name, ...place };
  });
}

/** Relative difference of two settings; of names 0 or beyond any number. */
function differenceOf(here: number | string | undefined, there: number | string): number {
  if (here === undefined) return 0;
  if (typeof here !== 'number' || typeof there !== 'number')
    return here === there ? 0 : Number.POSITIVE_INFINITY;
  return Math.abs(there - here) / Math.max(Math.abs(here), Math.abs(there), Number.MIN_VALUE);
}

function valueWords(value: number | string, measure: Measure | undefined): string {
  if (typeof value === 'string') return label(value, 18);
  return `${formatNumber(value, 3)} ${measure?.unit || (measure?.name ?? '')}`.trim();
}

/** Whether two settings are one, but for rounding. */
export function sameValue(a: number | string | undefined, b: number | string | undefined): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b));
}
