import type { SweepTable } from '../../answers/sweep-table.ts';
import type { Position } from '../../search/window/levels.ts';
import type { Mark } from '../figures/window-input.ts';
import type { ReportData } from '../report/report-data.ts';

/** Scattered points drawn at most. */
const MOST_SAMPLES = 600;

/** Marks that lie on a plane; those of another wheel or feed are left out. The pinned point is always on it. */
export function marksOn(data: Pick<ReportData, 'marks'>, x: string, y: string, at: Position): Mark[] {
  const fixed = data.marks.filter((mark) =>
    Object.entries(mark.at).every(([path, value]) => path === x || path === y || sameValue(at[path], value)),
  );
  const marks = fixed.map(
    ({ at: place, ...mark }): Mark => ({ ...mark, x: place[x] as number, y: place[y] as number }),
  );
  const here = { x: at[x] as number, y: at[y] as number };
  const onBest = marks.some(
    ({ kind, ...mark }) => kind === 'best' && sameValue(mark.x, here.x) && sameValue(mark.y, here.y),
  );
  return onBest ? marks : [...marks, { kind: 'pinned', name: 'pinned', ...here }];
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

/** Points of a scattered sweep, thinned. */
export function samplesOn(table: SweepTable, x: string, y: string): Mark[] {
  const of = (path: string) => table.factors.find((factor) => factor.path === path)!.values;
  const [xs, ys] = [of(x), of(y)];
  const step = Math.max(1, Math.ceil(table.points / MOST_SAMPLES));
  return Array.from({ length: Math.floor(table.points / step) }, (_, i): Mark => {
    return { kind: 'sample', name: '', x: xs[i * step]!, y: ys[i * step]! };
  });
}

function sameValue(a: number | string | undefined, b: number | string | undefined): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b));
}
