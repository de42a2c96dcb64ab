import type { Axis, Drawing, Layout, Note } from '../drawing.ts';
import { escapeText } from '../escape.ts';
import type { Theme } from '../theme.ts';
import { drawBars, drawLine, drawMarkers, Hatchings, paint, px, strokeOf } from './marks.ts';
import { type Place, placesOf } from './place.ts';

/** Text sizes of axes [px]. */
const TICK_SIZE = 12;
const TITLE_SIZE = 12.5;
const TICK_LINE = 15;
/** Typefaces named in files that stand alone; in a page the page's own are used. */
export const FACES = 'system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif';

interface SvgOptions {
  readonly theme: Theme;
  /** Distinguishes ids where several drawings stand in one page. */
  readonly id: string;
}

/** A drawing as SVG for a page, without a browser. */
export function writeSvg(drawing: Drawing, options: SvgOptions): string {
  const body = drawingBody(drawing, options);
  const { width, height } = drawing.layout;
  const open = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img">`;
  return `${open}<title>${escapeText(drawing.caption)}</title>${body}</svg>`;
}

/** What stands inside a drawing's SVG. */
export function drawingBody({ data, layout }: Drawing, { theme, id }: SvgOptions): string {
  const places = placesOf(layout);
  const hatchings = new Hatchings(id);
  const clip = (index: number) => `${id}-clip-${index}`;
  const clips = places
    .map(
      ({ left, right, top, bottom }, index) =>
        `<clipPath id="${clip(index)}"><rect x="${px(left - 1)}" y="${px(top - 1)}" width="${px(right - left + 2)}" height="${px(bottom - top + 2)}"/></clipPath>`,
    )
    .join('');
  const marks = places
    .map((place, index) => {
      const own = data.filter((trace) => (trace.axes ?? 1) === index + 1);
      const drawn = own.map((trace) =>
        trace.kind === 'bar' ? drawBars(trace, place, hatchings) : drawLine(trace, place, hatchings),
      );
      const points = own.map((trace) => (trace.kind === 'line' ? drawMarkers(trace, place) : ''));
      return `<g clip-path="url(#${clip(index)})">${drawn.join('')}</g>${points.join('')}`;
    })
    .join('');
  return [
    places.map((place) => drawAxes(place, theme)).join(''),
    marks,
    drawRules(layout, places),
    layout.notes.map((note) => drawNote(note, places[note.axes - 1]!)).join(''),
    `<defs>${clips}${hatchings.definitions()}</defs>`,
  ].join('');
}

function drawAxes({ panel, left, right, top, bottom, x, y }: Place, theme: Theme): string {
  const parts: string[] = [];
  const line = (path: string, color: string) =>
    parts.push(`<path d="${path}" fill="none" ${paint('stroke', color)} stroke-width="1"/>`);
  for (const tick of panel.x.ticks) {
    const at = px(x(tick.at));
    if (panel.x.grid) line(`M${at},${px(top)}V${px(bottom)}`, theme.grid);
    line(`M${at},${px(bottom)}v4`, theme.soft);
    tick.text.split('\n').forEach((line, i) => {
      parts.push(textAt(line, x(tick.at), bottom + 17 + i * TICK_LINE, 'middle', TICK_SIZE, theme.soft));
    });
  }
  for (const tick of panel.y.ticks) {
    const at = y(tick.at);
    if (panel.y.grid) line(`M${px(left)},${px(at)}H${px(right)}`, theme.grid);
    parts.push(textAt(tick.text, left - 7, at + 4, 'end', TICK_SIZE, theme.soft));
  }
  line(`M${px(left)},${px(bottom)}H${px(right)}`, theme.soft);
  if (panel.x.title)
    parts.push(textAt(panel.x.title, right, bottom + 35 + titleDrop(panel.x), 'end', TITLE_SIZE, theme.ink));
  if (panel.y.title)
    parts.push(textAt(panel.y.title, left - 7, top - 12, 'start', TITLE_SIZE, theme.ink, -28));
  return parts.join('');
}

/** How much lower an axis' title stands where tick labels take two lines [px]. */
function titleDrop({ ticks }: Axis): number {
  return (Math.max(1, ...ticks.map(({ text }) => text.split('\n').length)) - 1) * TICK_LINE;
}

function textAt(
  text: string,
  x: number,
  y: number,
  anchor: 'start' | 'middle' | 'end',
  size: number,
  color: string,
  shift = 0,
): string {
  return `<text x="${px(x + shift)}" y="${px(y)}" text-anchor="${anchor}" font-size="${size}" ${paint('fill', color)}>${escapeText(text)}</text>`;
}

function drawRules(layout: Layout, places: readonly Place[]): string {
  return layout.rules
    .map(({ axes, from, to, stroke }) => {
      const place = places[axes - 1]!;
      const ends = [place.x(from[0]), place.y(from[1]), place.x(to[0]), place.y(to[1])];
      if (!ends.every(Number.isFinite)) return '';
      const [x1, y1, x2, y2] = ends.map(px);
      return `<path d="M${x1},${y1}L${x2},${y2}" fill="none" ${strokeOf(stroke)}/>`;
    })
    .join('');
}

const ANCHORS = { left: 'start', center: 'middle', right: 'end' } as const;

function drawNote(note: Note, place: Place): string {
  const x = place.x(note.x) + (note.shiftX ?? 0);
  const y = place.y(note.y) + (note.shiftY ?? 0);
  if (!(Number.isFinite(x) && Number.isFinite(y))) return '';
  const lines = note.text.split('\n');
  const lineHeight = note.size * 1.25;
  const whole = lineHeight * (lines.length - 1);
  const first = {
    top: note.size * 0.95,
    middle: note.size * 0.35 - whole / 2,
    bottom: -note.size * 0.25 - whole,
  }[note.baseline];
  const turn = note.angle ? ` transform="rotate(${px(note.angle)} ${px(x)} ${px(y)})"` : '';
  const halo = note.halo
    ? ` style="fill:${note.color};stroke:${note.halo};stroke-width:4px;paint-order:stroke;stroke-linejoin:round"`
    : ` ${paint('fill', note.color)}`;
  const weight = note.weight === 'bold' ? ' font-weight="600"' : '';
  const spans = lines
    .map((line, i) => `<tspan x="${px(x)}" y="${px(y + first + i * lineHeight)}">${escapeText(line)}</tspan>`)
    .join('');
  return `<text text-anchor="${ANCHORS[note.align]}" font-size="${note.size}"${weight}${halo}${turn}>${spans}</text>`;
}
