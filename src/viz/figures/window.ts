import type { OperatingWindow } from '../../search/window/window.ts';
import type { Drawing, Figure, Frame, Panel } from '../drawing.ts';
import { placesOf } from '../svg/place.ts';
import { axis } from '../ticks.ts';
import { type Measure, measureText } from './measure.ts';
import { captionOf } from './window-caption.ts';
import { bandsAbout, bandsOf, limitsOf, marksOf, outlineOf, veilOf } from './window-layers.ts';
import { notesOf } from './window-notes.ts';
import { edgeTable } from './window-table.ts';

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
