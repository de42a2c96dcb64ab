import { listed } from '../../answers/join-words.ts';
import { measureText } from '../../answers/measure.ts';
import { CHOKE } from '../../answers/sweep-window.ts';
import { meetsWords } from '../../answers/table-verdict.ts';
import type { Drawing, Figure, Frame, Panel } from '../drawing.ts';
import { placesOf } from '../svg/place.ts';
import { axis } from '../ticks.ts';
import { onePanel } from './panels.ts';
import type { WindowInput } from './window-input.ts';
import { bandsAbout, bandsOf, hatchOf, limitsOf, marksOf, outlineOf, veilOf } from './window-layers.ts';
import { notesOf } from './window-notes.ts';
import { edgeTable } from './window-table.ts';

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
  const written = notesOf(input, place, frame.theme, narrow);
  return {
    data: [
      ...bandsOf(window, frame.theme),
      ...bandsAbout(window, frame.theme),
      ...veilOf(window, frame.theme),
      ...hatchOf(window, frame.theme, { color: frame.theme.soft, width: 1.2 }),
      ...limitsOf(window, place, frame.theme),
      ...outlineOf(window, frame.theme, 2.6),
      ...marksOf(input.marks, frame.theme),
    ],
    layout: { ...layout, ...written },
    caption: captionOf(input),
    table: edgeTable(input),
  };
}

function panelOf({ window: { lattice }, x, y }: WindowInput, narrow: boolean): Panel {
  const ends = (levels: Float64Array): [number, number] => [levels[0]!, levels[levels.length - 1]!];
  const ticks = narrow ? 4 : 7;
  return onePanel(
    axis(measureText(x), 'linear', ends(lattice.x), { ticks, grid: false }),
    axis(measureText(y), 'linear', ends(lattice.y), { ticks: 6, grid: false }),
  );
}

function captionOf({ window, x, y, words, quantity, marks }: WindowInput): string {
  const off = marks.some(({ kind }) => kind === 'away')
    ? ' Hollow marks: runs at other settings than those of this plane; what differs is written next to them.'
    : '';
  const colours = `Colour: ${measureText(quantity)}.${off}`;
  const never = window.limits
    .filter(({ reach }) => reach === 'nowhere')
    .map(({ name }) => words[name] ?? name);
  if (window.limits.length === 0) return `The file names no spec, so nothing limits this plane. ${colours}`;
  const meets = meetsWords(window);
  if (window.meeting.length === 0) {
    const why =
      never.length > 0
        ? ` ${never.join(' and ')} is met nowhere on it.`
        : ' No place meets all limits at once.';
    return `No settings on this plane ${meets.all}.${why} ${colours}`;
  }
  const active = [...new Set(window.edge.map(({ limit }) => limit))].filter((name) => name !== 'rim');
  const names = active.map((name) => (name === CHOKE ? 'choking' : (words[name] ?? name)));
  const bounded =
    names.length > 0 ? ` It is bounded by ${listed(names)}.` : ' No limit is reached on this plane.';
  const about = window.limits.some(({ band }) => band.length > 0)
    ? ' Grey: where the limits on its edge lie with the middle half of those plausible coefficients with which it runs.'
    : '';
  return `Inside the heavy line, every ${x.name} and ${y.name} ${meets.each}.${bounded} Teeth point to the side that fails.${about} ${colours}`;
}
