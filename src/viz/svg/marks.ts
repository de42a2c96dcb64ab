import type { BarTrace, Hatch, LineTrace, Marker, Shape, Stroke } from '../drawing.ts';
import { escapeText } from '../escape.ts';
import type { Place } from './place.ts';

/** Collects the hatchings a drawing uses; ids are made unique by a prefix. */
export class Hatchings {
  private readonly prefix: string;
  private readonly found: Hatch[] = [];

  constructor(prefix: string) {
    this.prefix = prefix;
  }

  fillOf(hatch: Hatch): string {
    let index = this.found.findIndex(
      ({ color, background }) => color === hatch.color && background === hatch.background,
    );
    if (index < 0) index = this.found.push(hatch) - 1;
    return `url(#${this.prefix}-hatch-${index})`;
  }

  definitions(): string {
    return this.found
      .map(
        ({ color, background }, index) =>
          `<pattern id="${this.prefix}-hatch-${index}" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
          `<rect width="7" height="7" ${paint('fill', background)}/><rect width="1.1" height="7" ${paint('fill', color)}/></pattern>`,
      )
      .join('');
  }
}

/** A colour as a style, so that references to the page's own colours hold. */
export function paint(property: 'fill' | 'stroke', color: string): string {
  return color.startsWith('var(') ? `style="${property}:${color}"` : `${property}="${escapeText(color)}"`;
}

/** Coordinates to a tenth of a pixel. */
export const px = (value: number): string => String(Math.round(value * 10) / 10);

export function strokeOf({ color, width, dash }: Stroke): string {
  const dashes = dash ? ` stroke-dasharray="${escapeText(dash)}"` : '';
  return `${paint('stroke', color)} stroke-width="${width}" stroke-linejoin="round"${dashes}`;
}

/** Path through the points; NaN breaks it, points outside a log axis break it too. */
function pathOf(trace: Pick<LineTrace, 'x' | 'y'>, place: Place, close: boolean): string {
  let path = '';
  let down = false;
  for (let i = 0; i < trace.x.length; i++) {
    const x = place.x(trace.x[i]!);
    const y = place.y(trace.y[i]!);
    if (!(Number.isFinite(x) && Number.isFinite(y))) {
      if (down && close) path += 'Z';
      down = false;
      continue;
    }
    path += `${down ? 'L' : 'M'}${px(x)},${px(y)}`;
    down = true;
  }
  return down && close ? `${path}Z` : path;
}

export function drawLine(trace: LineTrace, place: Place, hatchings: Hatchings): string {
  const parts: string[] = [];
  if (trace.fill && (trace.fillColor || trace.hatch)) {
    const fill = trace.hatch ? hatchings.fillOf(trace.hatch) : trace.fillColor!;
    const path = trace.fill === 'self' ? pathOf(trace, place, true) : downToZero(trace, place);
    if (path) parts.push(`<path d="${path}" ${paint('fill', fill)} fill-rule="nonzero"/>`);
  }
  if (trace.stroke) {
    const path = pathOf(trace, place, trace.fill === 'self');
    if (path) parts.push(`<path d="${path}" fill="none" ${strokeOf(trace.stroke)}/>`);
  }
  if (trace.marker) parts.push(errorBars(trace, place));
  return parts.join('');
}

/** Marks of a line whose middle lies in the panel; whole, though they may reach over its edge. */
export function drawMarkers({ x, y, marker }: LineTrace, place: Place): string {
  if (!marker) return '';
  const parts: string[] = [];
  for (let i = 0; i < x.length; i++) {
    const [left, top] = [place.x(x[i]!), place.y(y[i]!)];
    const inside =
      left > place.left - 1 && left < place.right + 1 && top > place.top - 1 && top < place.bottom + 1;
    if (inside) parts.push(drawMarker(marker, left, top));
  }
  return parts.join('');
}

function downToZero(trace: LineTrace, place: Place): string {
  const path = pathOf(trace, place, false);
  if (!path) return '';
  const shown = Array.from(trace.x).filter(
    (x, i) => Number.isFinite(place.x(x)) && Number.isFinite(place.y(trace.y[i]!)),
  );
  return `${path}L${px(place.x(shown.at(-1)!))},${px(place.bottom)}L${px(place.x(shown[0]!))},${px(place.bottom)}Z`;
}

function errorBars({ x, y, errorX, errorY, marker }: LineTrace, place: Place): string {
  const bars: string[] = [];
  const line = (x1: number, y1: number, x2: number, y2: number) => {
    if (![x1, y1, x2, y2].every(Number.isFinite)) return;
    bars.push(
      `<path d="M${px(x1)},${px(y1)}L${px(x2)},${px(y2)}" ${paint('stroke', marker!.color)} stroke-width="1"/>`,
    );
  };
  for (let i = 0; i < x.length; i++) {
    const [cx, cy] = [place.x(x[i]!), place.y(y[i]!)];
    if (errorX) line(place.x(x[i]! - errorX[i]!), cy, place.x(x[i]! + errorX[i]!), cy);
    if (errorY) line(cx, place.y(y[i]! - errorY[i]!), cx, place.y(y[i]! + errorY[i]!));
  }
  return bars.join('');
}

/** Outlines of the marks about the origin, for size 2. */
const SHAPES: Readonly<Record<Exclude<Shape, 'circle'>, string>> = {
  square: 'M-.9-.9H.9V.9H-.9Z',
  diamond: 'M0-1.2L1.2,0L0,1.2L-1.2,0Z',
  cross: 'M-.35-1.1H.35V-.35H1.1V.35H.35V1.1H-.35V.35H-1.1V-.35H-.35Z',
  'triangle-up': 'M0-1.15L1.1,.85H-1.1Z',
  star: 'M0-1.3L.32-.44L1.24-.4L.52.17L.76,1.05L0,.55L-.76,1.05L-.52.17L-1.24-.4L-.32-.44Z',
};

function drawMarker({ symbol, size, color, line }: Marker, x: number, y: number): string {
  const half = size / 2;
  // a path is drawn at size 2 and blown up: not every reader of SVG can keep a stroke out of that
  const blown = symbol === 'circle' ? 1 : half;
  const outline = line && { ...line, width: Number((line.width / blown).toPrecision(4)) };
  const look = mergeStyles(`${paint('fill', color)}${outline ? ` ${strokeOf(outline)}` : ''}`);
  return symbol === 'circle'
    ? `<circle cx="${px(x)}" cy="${px(y)}" r="${half}" ${look}/>`
    : `<path transform="translate(${px(x)},${px(y)}) scale(${half})" d="${SHAPES[symbol]}" ${look}/>`;
}

/** Two style attributes made one. */
function mergeStyles(attributes: string): string {
  const styles = [...attributes.matchAll(/style="([^"]*)"/g)].map((match) => match[1]!);
  if (styles.length < 2) return attributes;
  return `${attributes.replace(/ ?style="[^"]*"/g, '')} style="${styles.join(';')}"`;
}

export function drawBars(trace: BarTrace, place: Place, hatchings: Hatchings): string {
  const fill = trace.hatch ? hatchings.fillOf(trace.hatch) : trace.color;
  return trace.y
    .map((row, i) => {
      const [a, b] = [place.x(trace.from[i]!), place.x(trace.to[i]!)];
      const [c, d] = [place.y(row - trace.thickness / 2), place.y(row + trace.thickness / 2)];
      if (![a, b, c, d].every(Number.isFinite)) return '';
      return `<rect x="${px(Math.min(a, b))}" y="${px(Math.min(c, d))}" width="${px(Math.abs(b - a))}" height="${px(Math.abs(d - c))}" ${paint('fill', fill)}/>`;
    })
    .join('');
}
