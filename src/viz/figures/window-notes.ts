import type { Loop, Stretch } from '../../search/window/loop.ts';
import type { Note } from '../drawing.ts';
import type { Place } from '../svg/place.ts';
import type { Theme } from '../theme.ts';
import { tickText } from '../ticks.ts';
import { type PixelLine, Seating, textWidth } from './along.ts';
import { deepest } from './deepest.ts';
import type { Mark, WindowInput } from './window-input.ts';

function pixels(pieces: readonly (Loop | Stretch)[], place: Place): PixelLine[] {
  return pieces.map(({ x, y }) => ({ x: x.map(place.x), y: y.map(place.y) }));
}

/** Bold words are wider than plain ones by this much. */
const BOLD = 1.12;

/** Words on the plane: marks first, then limits, the region, the choke and the levels, each where there is room. */
export function notesOf(input: WindowInput, place: Place, theme: Theme, narrow: boolean): Note[] {
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
    put(mark.name, besideMark(seating, place, mark, size * BOLD), {
      color,
      weight: 'bold',
      halo: theme.paper,
    });
  }
  for (const { lines } of window.limits) seating.avoid(pixels(lines, place));
  for (const { name, lines } of window.limits) {
    const words = input.words[name] ?? name;
    put(words, seating.along(pixels(lines, place), words, size, [14, -12]));
  }
  const inside = deepest(pixels(window.meeting, place));
  const meets = narrow || (inside && inside.depth < 60) ? 'meets the\nwhole spec' : 'meets the whole spec';
  if (inside && inside.depth > 16) {
    put(meets, seating.near(around(inside, 26), meets, size * BOLD), { weight: 'bold', halo: theme.paper });
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
