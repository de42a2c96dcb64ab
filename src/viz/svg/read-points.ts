import type { Drawing } from '../drawing.ts';
import { placesOf } from './place.ts';

/** A point of a drawing that has words to read, in pixels of the drawing. */
export interface ReadPoint {
  /** Index of its line among the drawing's traces. */
  readonly trace: number;
  readonly left: number;
  readonly top: number;
  readonly words: string;
}

/** All points of a drawing that have words to read and lie inside their panel, line by line. */
export function readPoints({ data, layout }: Drawing): ReadPoint[] {
  if (layout.hover === 'none') return [];
  const places = placesOf(layout);
  return data.flatMap((trace, t) => {
    if (trace.kind !== 'line' || trace.readout === undefined || trace.readout === 'none') return [];
    const place = places[(trace.axes ?? 1) - 1]!;
    return trace.readout.flatMap((words, i): ReadPoint[] => {
      const [left, top] = [place.x(trace.x[i]!), place.y(trace.y[i]!)];
      const inside =
        left >= place.left - 1 && left <= place.right + 1 && top >= place.top - 1 && top <= place.bottom + 1;
      return inside ? [{ trace: t, left, top, words }] : [];
    });
  });
}

/** The point nearest a place of the drawing, none where all are farther than `reach` [px]. */
export function nearestPoint(
  points: readonly ReadPoint[],
  left: number,
  top: number,
  reach: number,
): ReadPoint | undefined {
  let best: ReadPoint | undefined;
  let least = reach;
  for (const point of points) {
    const distance = Math.hypot(point.left - left, point.top - top);
    if (distance > least) continue;
    least = distance;
    best = point;
  }
  return best;
}

/** The point an arrow key leads to: along its line by left and right, to the next line by up and down. */
export function steppedPoint(
  points: readonly ReadPoint[],
  from: ReadPoint | undefined,
  key: string,
): ReadPoint | undefined {
  if (!from) return points[0];
  const along = points.filter(({ trace }) => trace === from.trace);
  const at = along.indexOf(from);
  switch (key) {
    case 'ArrowLeft':
      return along[Math.max(0, at - 1)];
    case 'ArrowRight':
      return along[Math.min(along.length - 1, at + 1)];
    case 'Home':
      return along[0];
    case 'End':
      return along.at(-1);
  }
  const lines = [...new Set(points.map(({ trace }) => trace))];
  const step = key === 'ArrowUp' ? -1 : 1;
  const line = lines[(lines.indexOf(from.trace) + step + lines.length) % lines.length];
  const other = points.filter(({ trace }) => trace === line);
  return nearestPoint(other, from.left, from.top, Number.POSITIVE_INFINITY);
}
