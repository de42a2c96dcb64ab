import type { Drawing, Frame } from '../drawing.ts';
import { escapeText } from '../escape.ts';
import type { OfferedFigure } from '../figures/figure-offer.ts';
import { FIGURES } from '../figures/index.ts';
import { textWidth } from '../figures/label-placement.ts';
import { WHITE } from '../theme.ts';
import { paint, px } from './marks.ts';
import { drawingBody, FACES } from './write.ts';

/** A figure with what a reader needs who sees nothing but it. */
interface Sheet {
  readonly title: string;
  /** What case it shows, and how far its numbers can be trusted. */
  readonly source: string;
  readonly drawing: Drawing;
}

const EDGE = 18;
const TITLE = 17;
const TITLE_LINE = 23;
/** How much wider bold words run. */
const BOLD = 1.1;
const SMALL = 12.5;
const LINE = 17;

/** Room and colours of a figure drawn for a sheet of a width [px]. */
function sheetFrame(width: number): Frame {
  return { width: width - 2 * EDGE, theme: WHITE };
}

/** Draws a figure and sets it on a sheet. */
export function sheetOf({ title, figure, input }: OfferedFigure, source: string, width: number): Sheet {
  return { title, source, drawing: FIGURES[figure].draw(input as never, sheetFrame(width)) };
}

/**
 * A figure as an SVG file that stands alone: title and case above, caption below, both read out too; white paper,
 * typefaces of the system.
 */
export function sheetSvg({ title, source, drawing }: Sheet): string {
  const body = drawingBody(drawing, { theme: WHITE, id: 'figure' });
  const width = drawing.layout.width + 2 * EDGE;
  const room = drawing.layout.width;
  const head = wrapped(title, room / BOLD, TITLE);
  const above = wrapped(source, room, SMALL);
  const below = wrapped(drawing.caption, room, SMALL);
  const under = EDGE + head.length * TITLE_LINE;
  const top = under + above.length * LINE + 8;
  const foot = top + drawing.layout.height + 8;
  const height = Math.round(foot + below.length * LINE + EDGE);
  const { ink, soft, paper } = WHITE;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="title caption" font-family='${FACES}'>`,
    `<title id="title">${escapeText(title)}</title><desc id="caption">${escapeText(`${drawing.caption} ${source}`)}</desc>`,
    `<rect width="100%" height="100%" ${paint('fill', paper)}/>`,
    `<g font-weight="600">${textLines(head, EDGE, ink, TITLE, TITLE_LINE)}</g>`,
    textLines(above, under, soft),
    `<g transform="translate(${EDGE},${px(top)})">${body}</g>`,
    textLines(below, foot, ink),
    '</svg>\n',
  ].join('');
}

function textLines(
  lines: readonly string[],
  top: number,
  color: string,
  size = SMALL,
  lineHeight = LINE,
): string {
  return lines
    .map(
      (line, i) =>
        `<text x="${EDGE}" y="${px(top + i * lineHeight + size)}" font-size="${size}" ${paint('fill', color)}>${escapeText(line)}</text>`,
    )
    .join('');
}

/**
 * Text in as few lines as fit a width [px], all about equally long; a word longer than that stands on a line of its own.
 */
export function wrapped(text: string, width: number, size: number): string[] {
  const words = text.split(/\s+/).filter(Boolean);
  const widest = filled(words, width, size);
  for (let part = 0.5; part < 1; part += 0.05) {
    const even = filled(words, width * part, size);
    if (even.length <= widest.length) return even;
  }
  return widest;
}

function filled(words: readonly string[], width: number, size: number): string[] {
  const lines: string[] = [];
  for (const word of words) {
    const longer = lines.length > 0 ? `${lines.at(-1)} ${word}` : word;
    if (lines.length > 0 && textWidth(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}
