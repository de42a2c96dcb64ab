import type { Axis, Layout, Panel } from '../drawing.ts';

/** A panel in pixels, with its two scales. */
export interface Place {
  readonly panel: Panel;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

/** Where each panel stands in a drawing [px]. */
export function placesOf({ width, height, margin, panels }: Layout): Place[] {
  const innerWidth = width - margin.left - margin.right;
  const innerHeight = height - margin.top - margin.bottom;
  return panels.map((panel) => {
    const left = margin.left + panel.left * innerWidth;
    const right = margin.left + panel.right * innerWidth;
    const top = margin.top + (1 - panel.top) * innerHeight;
    const bottom = margin.top + (1 - panel.bottom) * innerHeight;
    return {
      panel,
      left,
      right,
      top,
      bottom,
      x: scaleOf(panel.x, left, right),
      y: scaleOf(panel.y, bottom, top),
    };
  });
}

/** Data numbers → pixels along an axis. */
function scaleOf({ scale, range }: Axis, from: number, to: number): (value: number) => number {
  const along = scale === 'log' ? Math.log : (value: number) => value;
  const start = along(range[0]);
  const length = along(range[1]) - start;
  return (value) => from + ((along(value) - start) / length) * (to - from);
}

/** Pixels → data numbers along an axis. */
export function inverseOf({ scale, range }: Axis, from: number, to: number): (pixel: number) => number {
  const along = scale === 'log' ? Math.log : (value: number) => value;
  const back = scale === 'log' ? Math.exp : (value: number) => value;
  const start = along(range[0]);
  const length = along(range[1]) - start;
  return (pixel) => back(start + ((pixel - from) / (to - from)) * length);
}
