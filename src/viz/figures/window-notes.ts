import { meetsWords } from '../../answers/table-verdict.ts';
import { inSigns } from '../../answers/words.ts';
import type { Loop, Stretch } from '../../search/window/closed-curve.ts';
import type { Note, Rule } from '../drawing.ts';
import { inverseOf, type Place } from '../svg/place.ts';
import type { Theme } from '../theme.ts';
import { tickText } from '../ticks.ts';
import { deepest } from './label-anchor.ts';
import { type PixelLine, Seating, textWidth } from './label-placement.ts';
import type { Mark, WindowInput } from './window-input.ts';

function pixels(pieces: readonly (Loop | Stretch)[], place: Place): PixelLine[] {
  return pieces.map(({ x, y }) => ({ x: x.map(place.x), y: y.map(place.y) }));
}

/** Costs beyond which a limit is named more shortly, and a level not at all. */
const CROWDED = 90;
const FULL = 60;

/** What is written on the plane, and strokes from words to what they name. */
interface Written {
  readonly notes: readonly Note[];
  readonly rules: readonly Rule[];
}

/** Words on the plane: marks first, then limits, the region, the choke and the levels, each where there is room. */
export function notesOf(input: WindowInput, place: Place, theme: Theme, narrow: boolean): Written {
  const { window } = input;
  const notes: Note[] = [];
  const rules: Rule[] = [];
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
    if (mark.kind === 'away') continue;
    const color = mark.kind === 'best' || mark.kind === 'pinned' ? theme.accent : theme.ink;
    put(mark.name, besideMark(seating, place, mark, size), {
      color,
      weight: 'bold',
      halo: theme.paper,
    });
  }
  for (const mark of input.marks) {
    if (mark.kind !== 'away') continue;
    put(mark.name, besideMark(seating, place, mark, 11), { color: theme.soft, size: 11, halo: theme.paper });
  }
  for (const { lines } of window.limits) seating.avoid(pixels(lines, place));
  seating.avoid(pixels(window.choked, place));
  const called: { line: PixelLine[]; text: string }[] = [];
  for (const { name, lines } of window.limits) {
    const line = pixels(lines, place);
    const words = input.words[name] ?? name;
    const along = (text: string, worst?: number) => {
      const seat = seating.along(line, text, size, [14, -13], worst);
      return seat && { text, seat };
    };
    const found = along(words, CROWDED) ?? along(inSigns(words));
    if (found) put(found.text, found.seat, { halo: theme.paper });
    else called.push({ line, text: inSigns(words) });
  }
  for (const { line, text } of called) {
    const to = middleOf(line);
    const seat = to && seating.near(outside(to, textWidth(text, size)), text, size);
    put(text, seat, { halo: theme.paper });
    if (seat) rules.push(strokeTo(to, seat, textWidth(text, size), place, theme));
  }
  const inside = deepest(pixels(window.meeting, place));
  if (inside && inside.depth > 8) {
    const text = meetsWords(window).label;
    const width = textWidth(text, size, 'bold');
    const fits = width < 1.8 * inside.depth;
    const seat = seating.near(fits ? around(inside, 26) : outside(inside, width), text, size, 'bold');
    put(text, seat, { weight: 'bold', halo: theme.paper });
    if (seat && !fits) rules.push(strokeTo(inside, seat, width, place, theme));
  }
  const choked = deepest(pixels(window.choked, place));
  if (choked && choked.depth > 12) {
    const words = `chokes: ${input.chokedBecause}`;
    const fits = textWidth(words, size) < choked.depth * 2.6 ? words : 'chokes';
    put(fits, seating.near(around(choked, 20), fits, size), { color: theme.soft, halo: theme.paper });
  }
  for (const { level, lines } of window.contours) {
    const words = tickText(level);
    put(words, seating.along(pixels(lines, place), words, 11, [0], FULL), {
      color: theme.soft,
      size: 11,
      halo: theme.paper,
    });
  }
  return { notes, rules };
}

/** Middle of the longest piece of a line. */
function middleOf(lines: readonly PixelLine[]): { x: number; y: number } | undefined {
  const longest = [...lines].sort((a, b) => b.x.length - a.x.length)[0];
  const middle = longest && longest.x.length >> 1;
  return longest && { x: longest.x[middle!]!, y: longest.y[middle!]! };
}

/** Places about something too small for its words. */
function outside({ x, y }: { x: number; y: number }, width: number): { x: number; y: number }[] {
  return [40, 70, 110, 160].flatMap((far) =>
    [-1, 1].flatMap((way) =>
      [-0.5, 0, 0.5, 1, -1].map((dy) => ({ x: x + way * (far + width / 2), y: y + dy * far })),
    ),
  );
}

/** From the end of the words that is nearer to a point inside what they name. */
function strokeTo(
  to: { x: number; y: number },
  words: { x: number; y: number },
  width: number,
  place: Place,
  theme: Theme,
): Rule {
  const { panel, left, right, top, bottom } = place;
  const x = inverseOf(panel.x, left, right);
  const y = inverseOf(panel.y, bottom, top);
  const from = words.x + Math.sign(to.x - words.x) * (width / 2 + 2);
  return {
    axes: 1,
    from: [x(from), y(words.y)],
    to: [x(to.x), y(to.y)],
    stroke: { color: theme.ink, width: 1 },
  };
}

function around({ x, y }: { x: number; y: number }, step: number): { x: number; y: number }[] {
  const shifts = [0, -1, 1, -2, 2, -3, 3];
  return shifts.flatMap((dy) => [0, -2, 2].map((dx) => ({ x: x + dx * step, y: y + dy * step })));
}

function besideMark(seating: Seating, place: Place, mark: Mark, size: number) {
  const x = place.x(mark.x);
  const y = place.y(mark.y);
  const half = textWidth(mark.name, size, 'bold') / 2 + 12;
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
  return seating.near(candidates, mark.name, size, 'bold');
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
