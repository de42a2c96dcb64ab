/** Points of a line in pixels. */
export interface PixelLine {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** Where words stand: centre [px], angle [degrees, clockwise]. */
interface Seat {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

/** A place taken by words or marks, as circles. */
interface Taken {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Rectangle that words have to stay in [px]. */
export interface Room {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Width of a letter over the text size in the wider of common sans-serif faces, and how much wider bold ones are. */
const LETTER = 0.58;
const BOLD = 1.12;

/** Width of words [px]. */
export function textWidth(text: string, size: number, weight: 'normal' | 'bold' = 'normal'): number {
  const letters = Math.max(...text.split('\n').map((line) => [...line].length));
  return letters * size * LETTER * (weight === 'bold' ? BOLD : 1);
}

/** A place words may stand level, by their middle [px]. */
export interface Candidate {
  readonly x: number;
  readonly y: number;
}

/** What each crossing of a line by a letter costs a seat. */
const CROSSING = 25;
/** Cost of a place that is taken. */
const TAKEN = 1000;
/** Distance of the points a line to keep off is sampled at, and side of the squares they are found by [px]. */
const SPACING = 6;
const SQUARE = 12;

function squareOf(x: number, y: number): number {
  return Math.floor(x / SQUARE) * 4096 + Math.floor(y / SQUARE);
}

/** Finds seats for words along lines and beside points, so that they do not run into each other. */
export class Seating {
  private readonly room: Room;
  private readonly taken: Taken[] = [];
  /** Points of lines to keep off, by the square of the drawing they lie in. */
  private readonly lines = new Map<number, Point[]>();

  constructor(room: Room) {
    this.room = room;
  }

  /** Lines that words would rather not cross. */
  avoid(lines: readonly PixelLine[]): void {
    for (const line of lines) {
      const lengths = runningLength(line);
      for (let at = 0; at < lengths.at(-1)!; at += SPACING) {
        const point = pointAt(line, lengths, at);
        const square = squareOf(point[0], point[1]);
        const list = this.lines.get(square);
        if (list) list.push(point);
        else this.lines.set(square, [point]);
      }
    }
  }

  /** Keeps a place free of words. */
  keepFree(x: number, y: number, radius: number): void {
    this.taken.push({ x, y, radius });
  }

  /**
   * A seat along a line, on its straightest stretch that is free.
   *
   * @param lines the line's pieces; only those longer than the words are looked at
   * @param sides distance of the words' middle from the line, to the right of its direction [px]; several are tried
   * @param worst cost at which no seat is better than this one; a letter on another line costs `CROSSING`
   * @returns undefined where no stretch is long or free enough
   */
  along(
    lines: readonly PixelLine[],
    text: string,
    size: number,
    sides: readonly number[],
    worst: number = TAKEN,
  ): Seat | undefined {
    const width = textWidth(text, size);
    let best: { readonly seat: Seat; readonly cost: number } | undefined;
    for (const line of lines) {
      const lengths = runningLength(line);
      const total = lengths.at(-1)!;
      if (total < width * 0.8) continue;
      for (let k = 1; k < 24; k++) {
        const middle = (total * k) / 24;
        const from = pointAt(line, lengths, Math.max(0, middle - width / 2));
        const to = pointAt(line, lengths, Math.min(total, middle + width / 2));
        const beyond = Math.max(0, width / 2 - middle) + Math.max(0, middle + width / 2 - total);
        const shape = bend(line, lengths, middle, width) * 3 + Math.abs(k - 12) * 0.4 + beyond * 4;
        sides.forEach((side, rank) => {
          const seat = seatBetween(from, to, pointAt(line, lengths, middle), side);
          const cost = this.cost(seat, width, size) + shape + rank * 6;
          if (cost < worst && (!best || cost < best.cost)) best = { seat, cost };
        });
      }
    }
    if (best) this.take(best.seat, width, size);
    return best?.seat;
  }

  /** A level seat for words of this width; the freest of the candidates, earlier ones preferred. */
  near<Place extends Candidate>(
    candidates: readonly Place[],
    text: string,
    size: number,
    weight: 'normal' | 'bold' = 'normal',
  ): (Place & Seat) | undefined {
    const width = textWidth(text, size, weight);
    const rows = text.split('\n').map((_, row, { length }) => (row - (length - 1) / 2) * size * 1.25);
    const seats = (place: Candidate) => rows.map((down) => ({ x: place.x, y: place.y + down, angle: 0 }));
    let best: { readonly place: Place; readonly cost: number } | undefined;
    candidates.forEach((place, rank) => {
      const cost = seats(place).reduce((sum, seat) => sum + this.cost(seat, width, size), rank * 5);
      if (cost < TAKEN && (!best || cost < best.cost)) best = { place, cost };
    });
    if (!best) return undefined;
    for (const seat of seats(best.place)) this.take(seat, width, size);
    return { ...best.place, angle: 0 };
  }

  private cost(seat: Seat, width: number, size: number): number {
    let cost = 0;
    const reach = size * 0.62;
    const { left, right, top, bottom } = this.room;
    for (const { x, y } of beads(seat, width, size)) {
      if (x < left + 4 || x > right - 4 || y < top + 8 || y > bottom - 8) return TAKEN;
      for (const other of this.taken) {
        const room = other.radius + reach;
        if ((other.x - x) ** 2 + (other.y - y) ** 2 < room * room) return TAKEN;
      }
      cost += CROSSING * this.linesNear(x, y, reach);
    }
    return cost;
  }

  /** Points of lines closer than `reach`. */
  private linesNear(x: number, y: number, reach: number): number {
    let count = 0;
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        const list = this.lines.get(squareOf(x + dx * SQUARE, y + dy * SQUARE));
        if (list) for (const [px, py] of list) if ((px - x) ** 2 + (py - y) ** 2 < reach * reach) count++;
      }
    }
    return count;
  }

  private take(seat: Seat, width: number, size: number): void {
    for (const { x, y } of beads(seat, width, size)) this.taken.push({ x, y, radius: size * 0.62 });
  }
}

function beads({ x, y, angle }: Seat, width: number, size: number): { x: number; y: number }[] {
  const turn = (angle * Math.PI) / 180;
  const count = Math.max(2, Math.ceil(width / size));
  return Array.from({ length: count }, (_, i) => {
    const along = (i / (count - 1) - 0.5) * width;
    return { x: x + along * Math.cos(turn), y: y + along * Math.sin(turn) };
  });
}

type Point = readonly [x: number, y: number];

function runningLength({ x, y }: PixelLine): number[] {
  const lengths = [0];
  for (let i = 1; i < x.length; i++) {
    lengths.push(lengths[i - 1]! + Math.hypot(x[i]! - x[i - 1]!, y[i]! - y[i - 1]!));
  }
  return lengths;
}

function pointAt({ x, y }: PixelLine, lengths: readonly number[], at: number): Point {
  let low = 1;
  let high = lengths.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lengths[middle]! < at) low = middle + 1;
    else high = middle;
  }
  const step = lengths[low]! - lengths[low - 1]!;
  const share = step > 0 ? (at - lengths[low - 1]!) / step : 0;
  return [x[low - 1]! + (x[low]! - x[low - 1]!) * share, y[low - 1]! + (y[low]! - y[low - 1]!) * share];
}

/** Words read from left to right, whichever way the line runs. */
function seatBetween(from: Point, to: Point, middle: Point, side: number): Seat {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  let angle = (Math.atan2(dy, dx) * 180) / Math.PI;
  if (angle > 90) angle -= 180;
  if (angle < -90) angle += 180;
  return { x: middle[0] - dy * side, y: middle[1] + dx * side, angle };
}

/** How far the line leaves the chord under the words [px]. */
function bend(line: PixelLine, lengths: readonly number[], middle: number, width: number): number {
  const a = pointAt(line, lengths, middle - width / 2);
  const b = pointAt(line, lengths, middle);
  const c = pointAt(line, lengths, middle + width / 2);
  return Math.hypot(b[0] - (a[0] + c[0]) / 2, b[1] - (a[1] + c[1]) / 2);
}
