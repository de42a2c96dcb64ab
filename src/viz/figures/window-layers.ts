import { meetsWords } from '../../answers/table-verdict.ts';
import type { Stretch } from '../../search/window/closed-curve.ts';
import type { OperatingWindow } from '../../search/window/window.ts';
import type { LineTrace, Stroke, Trace } from '../drawing.ts';
import type { Place } from '../svg/place.ts';
import type { Theme } from '../theme.ts';
import type { Mark } from './window-input.ts';

/** Pieces as one trace, broken by NaN. */
export function joined(
  pieces: readonly { readonly x: readonly number[]; readonly y: readonly number[] }[],
  close: boolean,
) {
  const x: number[] = [];
  const y: number[] = [];
  for (const piece of pieces) {
    if (x.length > 0) {
      x.push(Number.NaN);
      y.push(Number.NaN);
    }
    x.push(...piece.x);
    y.push(...piece.y);
    if (close) {
      x.push(piece.x[0]!);
      y.push(piece.y[0]!);
    }
  }
  return { x, y };
}

/** Colour bands of the quantity and the lines between them. */
export function bandsOf(window: OperatingWindow, theme: Theme): LineTrace[] {
  const levels = window.contours.map(({ level }) => level);
  const colors = bandColors(window, theme);
  const bands = window.bands.map(({ loops }, index): LineTrace => {
    const color = colors[index]!;
    return {
      kind: 'line',
      name: 'band',
      ...joined(loops, true),
      fill: 'self',
      fillColor: color,
      stroke: { color, width: 0.8 },
      readout: 'none',
    };
  });
  const lines = window.contours.flatMap(({ lines }) => lines);
  if (levels.length === 0) return bands;
  return [
    ...bands,
    {
      kind: 'line',
      name: 'contour',
      ...joined(lines, false),
      stroke: { color: theme.paper, width: 1 },
      readout: 'none',
    },
  ];
}

/** Colour of each band by its place among all levels, so that a colour keeps its meaning while sliders move. */
function bandColors(window: Pick<OperatingWindow, 'bands' | 'levels'>, theme: Theme): string[] {
  const last = Math.max(1, window.levels.length);
  return window.bands.map(({ rank }) => theme.scale[Math.round((rank / last) * (theme.scale.length - 1))]!);
}

/** What lies outside the region, under a veil. */
export function veilOf(window: OperatingWindow, theme: Theme): LineTrace[] {
  if (window.limits.length === 0) return [];
  const { x, y } = window.lattice;
  const [left, right, bottom, top] = [x[0]!, x[x.length - 1]!, y[0]!, y[y.length - 1]!];
  // clockwise, so that the region, which runs the other way, is left out
  const around = { x: [left, left, right, right], y: [bottom, top, top, bottom] };
  return [
    {
      kind: 'line',
      name: 'veil',
      ...joined([around, ...window.meeting], true),
      fill: 'self',
      fillColor: theme.veil,
      readout: 'none',
    },
  ];
}

/** What chokes, under hatching. */
export function hatchOf(window: Pick<OperatingWindow, 'choked'>, theme: Theme, edge?: Stroke): LineTrace[] {
  if (window.choked.length === 0) return [];
  return [
    {
      kind: 'line',
      name: 'choked',
      ...joined(window.choked, true),
      fill: 'self',
      hatch: { color: theme.hatch, background: theme.paper },
      ...(edge ? { stroke: edge } : {}),
      readout: 'none',
    },
  ];
}

/** Where the limits on the region's edge may lie; drawn under the veil and the hatching. */
export function bandsAbout(window: OperatingWindow, theme: Theme): LineTrace[] {
  const active = new Set(window.edge.map(({ limit }) => limit));
  return window.limits
    .filter(({ name, band }) => active.has(name) && band.length > 0)
    .map(({ name, band }): LineTrace => {
      return {
        kind: 'line',
        name: `${name} band`,
        ...joined(band, true),
        fill: 'self',
        fillColor: theme.band,
        readout: 'none',
      };
    });
}

/** Limit lines with teeth on the side that fails. */
export function limitsOf(window: OperatingWindow, place: Place, theme: Theme): Trace[] {
  return window.limits.flatMap(({ name, lines }): LineTrace[] => {
    if (lines.length === 0) return [];
    const ink = theme.ink;
    return [
      { kind: 'line', name, ...joined(lines, false), stroke: { color: ink, width: 1.3 }, readout: 'none' },
      {
        kind: 'line',
        name: `${name} teeth`,
        ...teeth(lines, place),
        stroke: { color: ink, width: 0.8 },
        readout: 'none',
      },
    ];
  });
}

const TOOTH = 5;
const TOOTH_STEP = 7;

/** Short strokes to the right of the line, where it fails, every few pixels; in data numbers. */
function teeth(lines: readonly Stretch[], place: Place): { x: number[]; y: number[] } {
  const x: number[] = [];
  const y: number[] = [];
  const perX = place.x(1) - place.x(0) || 1;
  const perY = place.y(1) - place.y(0) || 1;
  for (const line of lines) {
    let left = TOOTH_STEP / 2;
    for (let i = 1; i < line.x.length; i++) {
      const dx = (line.x[i]! - line.x[i - 1]!) * perX;
      const dy = (line.y[i]! - line.y[i - 1]!) * perY;
      const length = Math.hypot(dx, dy);
      for (; left < length; left += TOOTH_STEP) {
        const px = line.x[i - 1]! + (dx * left) / length / perX;
        const py = line.y[i - 1]! + (dy * left) / length / perY;
        // the inside lies on the left as axes run; pixels run down, so outside is at (−dy, dx)
        x.push(px, px + ((-dy / length) * TOOTH) / perX, Number.NaN);
        y.push(py, py + ((dx / length) * TOOTH) / perY, Number.NaN);
      }
      left -= length;
    }
  }
  return { x, y };
}

/** The heavy line round all that meets the whole spec. */
export function outlineOf(window: OperatingWindow, theme: Theme, width: number): LineTrace[] {
  if (window.meeting.length === 0) return [];
  return [
    {
      kind: 'line',
      name: meetsWords(window).each,
      ...joined(window.meeting, true),
      stroke: { color: theme.ink, width },
      readout: 'none',
    },
  ];
}

/** Marks by their kind, the loudest last. */
export function marksOf(marks: readonly Mark[], theme: Theme): LineTrace[] {
  const looks = {
    sample: { symbol: 'circle', size: 3, color: theme.soft },
    away: { symbol: 'square', size: 8, color: theme.paper, line: { color: theme.ink, width: 1.4 } },
    trial: { symbol: 'square', size: 9, color: theme.ink, line: { color: theme.paper, width: 1.4 } },
    file: { symbol: 'diamond', size: 11, color: theme.paper, line: { color: theme.ink, width: 1.8 } },
    best: { symbol: 'circle', size: 12, color: theme.accent, line: { color: theme.paper, width: 2 } },
    pinned: { symbol: 'cross', size: 14, color: theme.accent, line: { color: theme.paper, width: 1.4 } },
  } as const;
  const kinds = Object.keys(looks) as (keyof typeof looks)[];
  return kinds.flatMap((kind): LineTrace[] => {
    const own = marks.filter((mark) => mark.kind === kind);
    if (own.length === 0) return [];
    return [
      {
        kind: 'line',
        name: kind,
        x: own.map(({ x }) => x),
        y: own.map(({ y }) => y),
        marker: looks[kind],
        readout: 'none',
      },
    ];
  });
}
