import type { AxisPair, Layout, LineTrace, Note, Stroke } from '../drawing.ts';
import { type Place, placesOf } from '../svg/place.ts';
import { type PixelLine, Seating, textWidth } from './label-placement.ts';

/** A line with the words that stand along it. */
export interface Curve {
  readonly name: string;
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly stroke: Stroke;
  readonly axes: AxisPair;
  /** Words along the line; the name where absent, none where empty. */
  readonly words?: string;
  readonly fillColor?: string;
  readonly readout?: readonly string[] | 'none';
  /** Sides of the line the words are tried on [px], right of its direction positive. */
  readonly sides?: readonly number[];
}

/** A curve as a trace. */
export function traceOf(curve: Curve): LineTrace {
  const { name, x, y, stroke, axes, fillColor, readout } = curve;
  return {
    kind: 'line',
    name,
    x,
    y,
    axes,
    stroke,
    ...(fillColor ? { fill: 'zero' as const, fillColor } : {}),
    ...(readout ? { readout } : {}),
  };
}

/** The curve's part inside its panel, in pixels. */
function pixelsOf(curve: Pick<Curve, 'x' | 'y' | 'axes'>, layout: Layout): PixelLine[] {
  const place = placesOf(layout)[curve.axes - 1]!;
  const pieces: { x: number[]; y: number[] }[] = [];
  let end: readonly [number, number] | undefined;
  for (let i = 1; i < curve.x.length; i++) {
    const from = [place.x(curve.x[i - 1]!), place.y(curve.y[i - 1]!)] as const;
    const to = [place.x(curve.x[i]!), place.y(curve.y[i]!)] as const;
    const inside = clipped(from, to, place);
    if (!inside) {
      end = undefined;
      continue;
    }
    const [a, b] = inside;
    if (!end || end[0] !== a[0] || end[1] !== a[1]) pieces.push({ x: [a[0]], y: [a[1]] });
    pieces.at(-1)!.x.push(b[0]);
    pieces.at(-1)!.y.push(b[1]);
    end = b;
  }
  return pieces;
}

type Pixel = readonly [x: number, y: number];

/** The part of a straight piece inside a panel (Liang & Barsky 1984); undefined where there is none. */
function clipped(
  from: Pixel,
  to: Pixel,
  { left, right, top, bottom }: Place,
): readonly [Pixel, Pixel] | undefined {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [start, end] = [0, 1];
  for (const [step, room] of [
    [-dx, from[0] - left],
    [dx, right - from[0]],
    [-dy, from[1] - top],
    [dy, bottom - from[1]],
  ] as const) {
    if (!Number.isFinite(step) || !Number.isFinite(room)) return undefined;
    if (step === 0) {
      if (room < 0) return undefined;
    } else if (step < 0) start = Math.max(start, room / step);
    else end = Math.min(end, room / step);
  }
  if (start >= end) return undefined;
  const at = (share: number): Pixel =>
    share === 0 ? from : share === 1 ? to : [from[0] + share * dx, from[1] + share * dy];
  return [at(start), at(end)];
}

export interface Words {
  readonly text: string;
  readonly axes: AxisPair;
  readonly size: number;
  readonly color: string;
  readonly weight?: 'normal' | 'bold';
  readonly halo?: string;
}

/** Room between a point and the words beside it [px]. */
const BESIDE = 9;

/** Seats words along curves; one seating a panel, so that panels do not push each other's words. */
export class PanelSeating {
  private readonly layout: Layout;
  private readonly seatings: Seating[];

  constructor(layout: Layout) {
    this.layout = layout;
    this.seatings = placesOf(layout).map(
      ({ left, right, top, bottom }) => new Seating({ left, right, top, bottom }),
    );
  }

  avoid(curve: Pick<Curve, 'x' | 'y' | 'axes'>): void {
    this.seatings[curve.axes - 1]!.avoid(pixelsOf(curve, this.layout));
  }

  keepFree(axes: AxisPair, x: number, y: number, radius: number): void {
    const place = placesOf(this.layout)[axes - 1]!;
    this.seatings[axes - 1]!.keepFree(place.x(x), place.y(y), radius);
  }

  along(curve: Curve, look: Omit<Words, 'text' | 'axes'>): Note[] {
    const text = curve.words ?? curve.name;
    if (text === '') return [];
    const seat = this.seatings[curve.axes - 1]!.along(
      pixelsOf(curve, this.layout),
      text,
      look.size,
      curve.sides ?? [-10, 11],
    );
    return seat ? [this.note({ ...look, text, axes: curve.axes }, seat)] : [];
  }

  /**
   * Words beside a point, on the first side that is free; those at its left end and those at its right begin there.
   *
   * @param or other points the words may stand at: at either side, above or below
   */
  beside(
    x: number,
    y: number,
    words: Words,
    or: readonly { readonly x: number; readonly y: number }[] = [],
  ): Note[] {
    const place = placesOf(this.layout)[words.axes - 1]!;
    const [px, py] = [place.x(x), place.y(y)];
    const width = textWidth(words.text, words.size, words.weight);
    const tall = words.size * 0.7 * words.text.split('\n').length;
    const side = (dx: number, dy: number, from = { x: px, y: py }) => ({
      x: from.x + dx * (width / 2 + BESIDE),
      y: from.y + dy,
      align: dx > 0 ? ('left' as const) : ('right' as const),
    });
    const over = (dx: number, dy: number, from = { x: px, y: py }) => ({
      x: from.x + dx,
      y: from.y + dy,
      align: 'center' as const,
    });
    const others = or.map((other) => ({ x: place.x(other.x), y: place.y(other.y) }));
    const seat = this.seatings[words.axes - 1]!.near(
      [
        side(1, 0),
        side(-1, 0),
        ...others.flatMap((at) => [
          side(1, 0, at),
          side(-1, 0, at),
          over(0, -tall - 6, at),
          over(0, tall + 6, at),
        ]),
        ...[tall + 4, 2 * tall + 8, 4 * tall].flatMap((far) => [
          side(1, -far),
          side(-1, -far),
          side(1, far),
          side(-1, far),
        ]),
        over(0, -tall - 9),
        over(0, tall + 9),
        over(width * 0.2, -tall * 2.6),
        over(-width * 0.2, -tall * 2.6),
      ],
      words.text,
      words.size,
      words.weight,
    );
    if (!seat) return [];
    const end = { left: -width / 2, right: width / 2, center: 0 }[seat.align];
    return [this.note(words, { ...seat, x: seat.x + end }, seat.align)];
  }

  private note(
    words: Words,
    seat: { x: number; y: number; angle: number },
    align: Note['align'] = 'center',
  ): Note {
    const { panel, x, y } = placesOf(this.layout)[words.axes - 1]!;
    const at = { x: panel.x.range[0], y: panel.y.range[0] };
    return {
      ...words,
      ...at,
      align,
      baseline: 'middle',
      angle: seat.angle,
      shiftX: seat.x - x(at.x),
      shiftY: seat.y - y(at.y),
    };
  }
}
