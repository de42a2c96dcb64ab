import type { PixelLine } from './label-placement.ts';

/** Trials along each axis for the deepest place. */
const TRIALS = 16;

/** The place inside closed edges farthest from every edge (by trial over their extent), with that distance [px]. */
export function deepest(loops: readonly PixelLine[]): { x: number; y: number; depth: number } | undefined {
  if (loops.length === 0) return undefined;
  const edges = loops.map(({ x, y }) => ({ x: thinned(x), y: thinned(y) }));
  const [left, right] = extent(edges.map(({ x }) => x));
  const [top, bottom] = extent(edges.map(({ y }) => y));
  let best: { x: number; y: number; depth: number } | undefined;
  for (let i = 1; i < TRIALS; i++) {
    for (let j = 1; j < TRIALS; j++) {
      const x = left + ((right - left) * i) / TRIALS;
      const y = top + ((bottom - top) * j) / TRIALS;
      if (!isInside(edges, x, y)) continue;
      const depth = distanceTo(edges, x, y);
      if (!best || depth > best.depth) best = { x, y, depth };
    }
  }
  return best;
}

/** Every few of many points: enough to seat words by. */
function thinned(values: readonly number[]): readonly number[] {
  const step = Math.ceil(values.length / 80);
  return step <= 1 ? values : values.filter((_, i) => i % step === 0);
}

function extent(lists: readonly (readonly number[])[]): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const list of lists) {
    for (const value of list) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return [low, high];
}

function isInside(loops: readonly PixelLine[], x: number, y: number): boolean {
  let inside = false;
  for (const { x: xs, y: ys } of loops) {
    for (let i = 0, j = xs.length - 1; i < xs.length; j = i++) {
      if (ys[i]! > y !== ys[j]! > y && x < ((xs[j]! - xs[i]!) * (y - ys[i]!)) / (ys[j]! - ys[i]!) + xs[i]!) {
        inside = !inside;
      }
    }
  }
  return inside;
}

function distanceTo(loops: readonly PixelLine[], x: number, y: number): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (const { x: xs, y: ys } of loops) {
    for (let i = 0, j = xs.length - 1; i < xs.length; j = i++) {
      const [dx, dy] = [xs[i]! - xs[j]!, ys[i]! - ys[j]!];
      const square = dx * dx + dy * dy;
      const along =
        square > 0 ? Math.max(0, Math.min(1, ((x - xs[j]!) * dx + (y - ys[j]!) * dy) / square)) : 0;
      const [offX, offY] = [x - xs[j]! - along * dx, y - ys[j]! - along * dy];
      nearest = Math.min(nearest, offX * offX + offY * offY);
    }
  }
  return Math.sqrt(nearest);
}
