import type { Axis, Layout, Panel } from '../drawing.ts';

/** A panel over the whole drawing. */
export function onePanel(x: Axis, y: Axis): Panel {
  return { x, y, left: 0, right: 1, bottom: 0, top: 1 };
}

/**
 * Layout of a figure that stands beside another below an operating point.
 *
 * @param left margin for the numbers of the axis [px]
 */
export function halfLayout(width: number, left: number, panel: Panel): Layout {
  return {
    width,
    height: Math.min(330, Math.max(270, width * 0.6)),
    margin: { left, right: 20, top: 34, bottom: 46 },
    panels: [panel],
    notes: [],
    rules: [],
    hover: 'point',
  };
}

/** Panels side by side where there is room, below each other where not; shares of the inner area. */
export function spread(
  axes: readonly { readonly x: Axis; readonly y: Axis }[],
  columns: number,
  gap: { readonly x: number; readonly y: number },
): Panel[] {
  const rows = Math.ceil(axes.length / columns);
  const width = (1 - gap.x * (columns - 1)) / columns;
  const height = (1 - gap.y * (rows - 1)) / rows;
  return axes.map(({ x, y }, index) => {
    const left = (index % columns) * (width + gap.x);
    const top = 1 - Math.floor(index / columns) * (height + gap.y);
    return { x, y, left, right: left + width, bottom: top - height, top };
  });
}

/** What stands in rows of panels, lengths in pixels. */
interface Rows {
  readonly columns: number;
  readonly width: number;
  /** Height of one panel. */
  readonly each: number;
  readonly gap: { readonly x: number; readonly y: number };
  readonly margin: Layout['margin'];
  readonly hover: Layout['hover'];
}

/** Rows of equal panels, the drawing as high as they need. */
export function rowsOfPanels(
  axes: readonly { readonly x: Axis; readonly y: Axis }[],
  { columns, width, each, gap, margin, hover }: Rows,
): Layout {
  const rows = Math.ceil(axes.length / columns);
  const inner = { x: width - margin.left - margin.right, y: rows * each + (rows - 1) * gap.y };
  return {
    width,
    height: inner.y + margin.top + margin.bottom,
    margin,
    panels: spread(axes, columns, { x: gap.x / inner.x, y: gap.y / inner.y }),
    notes: [],
    rules: [],
    hover,
  };
}
