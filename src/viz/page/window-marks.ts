import type { SweepTable } from '../../answers/sweep-table.ts';
import type { Position } from '../../search/window/levels.ts';
import type { Mark } from '../figures/window-input.ts';
import { marksOnPlane, sameValue } from '../report/marks-on-plane.ts';
import type { ReportData } from '../report/report-data.ts';

/** Scattered points drawn at most. */
const MOST_SAMPLES = 600;

/** Marks of a plane through the pinned point, which is always on it; runs at other settings are hollow. */
export function marksOn(
  data: Pick<ReportData, 'marks'>,
  table: SweepTable,
  x: string,
  y: string,
  at: Position,
): Mark[] {
  const measures = new Map(table.factors.map(({ path, measure }) => [path, measure]));
  const marks = marksOnPlane(data.marks, [x, y], at, measures);
  const here = { x: at[x] as number, y: at[y] as number };
  const onBest = marks.some(
    ({ kind, ...mark }) => kind === 'best' && sameValue(mark.x, here.x) && sameValue(mark.y, here.y),
  );
  return onBest ? marks : [...marks, { kind: 'pinned', name: 'pinned', ...here }];
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
