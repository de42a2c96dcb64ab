import type { Loop, Stretch } from '../../search/window/region.ts';
import type { OperatingWindow } from '../../search/window/window.ts';
import { CHOKE } from '../../search/window/window.ts';
import type { Drawing, Figure, Frame, LineTrace, Note, Panel, Trace } from '../drawing.ts';
import { type Place, placesOf } from '../svg/place.ts';
import type { Theme } from '../theme.ts';
import { axis, tickText } from '../ticks.ts';
import { deepest, type PixelLine, Seating, textWidth } from './along.ts';
import { edgeTable } from './window-table.ts';

/** A factor or quantity as an axis or a key shows it. */
export interface Measure {
  readonly name: string;
  /** Unit as text; empty for a pure number. */
  readonly unit: string;
}

/** A mark on the plane. */
export interface Mark {
  readonly kind: 'best' | 'file' | 'pinned' | 'trial' | 'sample';
  readonly x: number;
  readonly y: number;
  readonly name: string;
}

/** Everything in the units shown. */
export interface WindowInput {
  readonly window: OperatingWindow;
  readonly x: Measure;
  readonly y: Measure;
  readonly quantity: Measure;
  /** Words for each limit: `95 % below 75 µm`. */
  readonly words: Readonly<Record<string, string>>;
  /** Why the choked part chokes, in words. */
  readonly chokedBecause: string;
  readonly marks: readonly Mark[];
}

export function measureText({ name, unit }: Measure): string {
  return unit === '' ? name : `${name}, ${unit}`;
}

/** Two factors against each other: where the whole spec is met, and what limits it there. */
export const windowFigure: Figure<WindowInput> = {
  name: 'window',
  title: 'Operating window',
  draw,
};

function draw(input: WindowInput, frame: Frame): Drawing {
  const { window } = input;
  const narrow = frame.width < 520;
  const height = Math.round(Math.min(620, Math.max(narrow ? 380 : 420, frame.width * 0.66)));
  const panel = panelOf(input, narrow);
  const margin = { left: narrow ? 44 : 56, right: 16, top: 36, bottom: 48 };
  const layout = {
    width: frame.width,
    height,
    margin,
    panels: [panel],
    notes: [],
    rules: [],
    hover: 'none' as const,
  };
  const place = placesOf(layout)[0]!;
  const notes = notesOf(input, place, frame.theme, narrow);
  return {
    data: [
      ...bandsOf(window, frame.theme),
      ...bandsAbout(window, frame.theme),
      ...veilOf(window, frame.theme),
      ...limitsOf(window, place, frame.theme),
      ...outlineOf(window, frame.theme),
      ...marksOf(input.marks, frame.theme),
    ],
    layout: { ...layout, notes },
    caption: captionOf(input),
    table: edgeTable(input),
  };
}

function panelOf({ window: { lattice }, x, y }: WindowInput, narrow: boolean): Panel {
  const ends = (levels: Float64Array): [number, number] => [levels[0]!, levels[levels.length - 1]!];
  const ticks = narrow ? 4 : 7;
  return {
    x: axis(measureText(x), 'linear', ends(lattice.x), { ticks, grid: false }),
    y: axis(measureText(y), 'linear', ends(lattice.y), { ticks: 6, grid: false }),
    left: 0,
    right: 1,
    bottom: 0,
    top: 1,
  };
}

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

function bandsOf(window: OperatingWindow, theme: Theme): LineTrace[] {
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
export function bandColors(window: Pick<OperatingWindow, 'bands' | 'levels'>, theme: Theme): string[] {
  const last = Math.max(1, window.levels.length);
  return window.bands.map(({ rank }) => theme.scale[Math.round((rank / last) * (theme.scale.length - 1))]!);
}

function veilOf(window: OperatingWindow, theme: Theme): LineTrace[] {
  const { x, y } = window.lattice;
  const [left, right, bottom, top] = [x[0]!, x[x.length - 1]!, y[0]!, y[y.length - 1]!];
  const traces: LineTrace[] = [];
  if (window.limits.length > 0) {
    // clockwise, so that the region, which runs the other way, is left out
    const around = { x: [left, left, right, right], y: [bottom, top, top, bottom] };
    traces.push({
      kind: 'line',
      name: 'veil',
      ...joined([around, ...window.meeting], true),
      fill: 'self',
      fillColor: theme.veil,
      readout: 'none',
    });
  }
  if (window.choked.length > 0) {
    traces.push({
      kind: 'line',
      name: 'choked',
      ...joined(window.choked, true),
      fill: 'self',
      hatch: { color: theme.hatch, background: theme.paper },
      stroke: { color: theme.soft, width: 1.2 },
      readout: 'none',
    });
  }
  return traces;
}

/** Where the limits on the region's edge may lie; drawn under the veil and the hatching. */
function bandsAbout(window: OperatingWindow, theme: Theme): LineTrace[] {
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
function limitsOf(window: OperatingWindow, place: Place, theme: Theme): Trace[] {
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

function outlineOf(window: OperatingWindow, theme: Theme): LineTrace[] {
  if (window.meeting.length === 0) return [];
  return [
    {
      kind: 'line',
      name: 'meets the whole spec',
      ...joined(window.meeting, true),
      stroke: { color: theme.ink, width: 2.6 },
      readout: 'none',
    },
  ];
}

function marksOf(marks: readonly Mark[], theme: Theme): LineTrace[] {
  const looks = {
    sample: { symbol: 'circle', size: 3, color: theme.soft },
    trial: { symbol: 'square', size: 9, color: theme.paper, line: { color: theme.ink, width: 1.8 } },
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

function pixels(pieces: readonly (Loop | Stretch)[], place: Place): PixelLine[] {
  return pieces.map(({ x, y }) => ({ x: x.map(place.x), y: y.map(place.y) }));
}

function notesOf(input: WindowInput, place: Place, theme: Theme, narrow: boolean): Note[] {
  const { window } = input;
  const notes: Note[] = [];
  const room = { left: place.left, right: place.right, top: place.top, bottom: place.bottom };
  const seating = new Seating(room);
  const size = narrow ? 11 : 12.5;
  const put = (
    text: string,
    seat: { x: number; y: number; angle: number } | undefined,
    look: Partial<Note> = {},
  ) => {
    if (seat) notes.push(noteAt(text, seat, place, { color: theme.ink, size, ...look }));
  };
  for (const { kind, x, y } of input.marks)
    if (kind !== 'sample') seating.keepFree(place.x(x), place.y(y), 8);
  for (const mark of input.marks) {
    if (mark.kind === 'sample') continue;
    const color = mark.kind === 'best' || mark.kind === 'pinned' ? theme.accent : theme.ink;
    put(mark.name, besideMark(seating, place, mark, size), { color, weight: 'bold', halo: theme.paper });
  }
  for (const { lines } of window.limits) seating.avoid(pixels(lines, place));
  for (const { name, lines } of window.limits) {
    const words = input.words[name] ?? name;
    put(words, seating.along(pixels(lines, place), words, size, [14, -12]));
  }
  const inside = deepest(pixels(window.meeting, place));
  const meets = narrow || (inside && inside.depth < 60) ? 'meets the\nwhole spec' : 'meets the whole spec';
  if (inside && inside.depth > 16) {
    put(meets, seating.near(around(inside, 26), meets, size), { weight: 'bold', halo: theme.paper });
  }
  const choked = deepest(pixels(window.choked, place));
  if (choked && choked.depth > 12) {
    const words = `chokes: ${input.chokedBecause}`;
    const fits = textWidth(words, size) < choked.depth * 2.6 ? words : 'chokes';
    put(fits, seating.near(around(choked, 20), fits, size), { color: theme.soft, halo: theme.paper });
  }
  for (const { level, lines } of window.contours) {
    const words = tickText(level);
    put(words, seating.along(pixels(lines, place), words, 11, [0]), {
      color: theme.soft,
      size: 11,
      halo: theme.paper,
    });
  }
  return notes;
}

function around({ x, y }: { x: number; y: number }, step: number): { x: number; y: number }[] {
  const shifts = [0, -1, 1, -2, 2, -3, 3];
  return shifts.flatMap((dy) => [0, -2, 2].map((dx) => ({ x: x + dx * step, y: y + dy * step })));
}

function besideMark(seating: Seating, place: Place, mark: Mark, size: number) {
  const x = place.x(mark.x);
  const y = place.y(mark.y);
  const half = textWidth(mark.name, size) / 2 + 14;
  const candidates = [
    { x: x + half, y },
    { x: x - half, y },
    { x, y: y - 20 },
    { x, y: y + 20 },
    { x: x + half, y: y - 18 },
    { x: x + half, y: y + 18 },
    { x: x - half, y: y - 18 },
    { x: x - half, y: y + 18 },
  ];
  return seating.near(candidates, mark.name, size);
}

function noteAt(
  text: string,
  seat: { x: number; y: number; angle: number },
  place: Place,
  look: Pick<Note, 'color' | 'size'> & Partial<Note>,
): Note {
  const { panel } = place;
  const x = panel.x.range[0];
  const y = panel.y.range[0];
  return {
    text,
    x,
    y,
    axes: 1,
    align: 'center',
    baseline: 'middle',
    angle: seat.angle,
    shiftX: seat.x - place.x(x),
    shiftY: seat.y - place.y(y),
    ...look,
  };
}

function captionOf({ window, x, y, words, quantity }: WindowInput): string {
  const colours = `Colour: ${measureText(quantity)}.`;
  const never = window.limits
    .filter(({ reach }) => reach === 'nowhere')
    .map(({ name }) => words[name] ?? name);
  if (window.limits.length === 0) return `The file names no spec, so nothing limits this plane. ${colours}`;
  if (window.meeting.length === 0) {
    const why =
      never.length > 0
        ? ` ${never.join(' and ')} is met nowhere on it.`
        : ' No place meets all limits at once.';
    return `Nothing on this plane meets the whole spec.${why} ${colours}`;
  }
  const active = [...new Set(window.edge.map(({ limit }) => limit))].filter((name) => name !== 'rim');
  const names = active.map((name) => (name === CHOKE ? 'choking' : (words[name] ?? name)));
  const bounded =
    names.length > 0 ? ` It is bounded by ${listed(names)}.` : ' No limit is reached on this plane.';
  const about = window.limits.some(({ band }) => band.length > 0)
    ? ' Grey: where the limits on its edge lie in the middle half of plausible coefficients.'
    : '';
  return `Inside the heavy line, every ${x.name} and ${y.name} meets the whole spec.${bounded} Teeth point to the side that fails.${about} ${colours}`;
}

/** `a, b and c`. */
export function listed(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
