import type { Field, Lattice } from './lattice.ts';

/**
 * A closed edge with the inside on its left. Edge i runs from point i to point i+1 (the last one back to the first) and
 * belongs to the field `by[i]`, which is zero along it, or to the lattice's rim where `by[i]` is −1.
 */
export interface Loop {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly by: readonly number[];
}

/** Fineness in which places are told apart, as a share of the lattice's width. */
const RESOLUTION = 1e7;

/**
 * The part of a lattice where every field is ≥ 0, taken as linear on the four triangles of each cell (corners and the
 * mean at the centre), so that corners between two limits stay sharp.
 *
 * @param fields without NaN, at least one
 * @returns closed edges, holes included, each piece with the field that limits it there
 */
export function regionWhere(lattice: Lattice, fields: readonly Field[]): Loop[] {
  const edges = new Edges(lattice);
  const columns = lattice.x.length - 1;
  const states = cellStates(lattice, fields);
  for (let cell = 0; cell < states.length; cell++) {
    const state = states[cell]!;
    if (state === OUTSIDE) continue;
    const j = Math.floor(cell / columns);
    const i = cell - j * columns;
    if (state === INSIDE) {
      // edges between two whole cells would only cancel
      if (j === 0 || states[cell - columns] !== INSIDE) edges.addSide(i, j, i + 1, j);
      if (i === columns - 1 || states[cell + 1] !== INSIDE) edges.addSide(i + 1, j, i + 1, j + 1);
      if (cell + columns >= states.length || states[cell + columns] !== INSIDE)
        edges.addSide(i + 1, j + 1, i, j + 1);
      if (i === 0 || states[cell - 1] !== INSIDE) edges.addSide(i, j + 1, i, j);
    } else addMixed(edges, lattice, fields, i, j);
  }
  return edges.chain();
}

const [OUTSIDE, MIXED, INSIDE] = [0, 1, 2];

/** Whether each cell lies whole inside, whole outside, or may be cut; cells row by row. */
function cellStates({ x, y }: Lattice, fields: readonly Field[]): Uint8Array {
  const width = x.length;
  const states = new Uint8Array((width - 1) * (y.length - 1)).fill(INSIDE);
  for (const field of fields) {
    let cell = 0;
    for (let j = 0; j + 1 < y.length; j++) {
      for (let i = 0; i + 1 < width; i++, cell++) {
        if (states[cell] === OUTSIDE) continue;
        const node = j * width + i;
        const within =
          Number(field[node]! >= 0) +
          Number(field[node + 1]! >= 0) +
          Number(field[node + width]! >= 0) +
          Number(field[node + width + 1]! >= 0);
        if (within === 0) states[cell] = OUTSIDE;
        else if (within < 4) states[cell] = MIXED;
      }
    }
  }
  return states;
}

/** A corner of a polygon being cut; `by` belongs to the edge that starts here. */
interface Corner {
  readonly x: number;
  readonly y: number;
  readonly values: readonly number[];
  readonly by: number;
}

function addMixed(edges: Edges, lattice: Lattice, fields: readonly Field[], i: number, j: number): void {
  const width = lattice.x.length;
  const at = (di: number, dj: number): Corner => ({
    x: lattice.x[i + di]!,
    y: lattice.y[j + dj]!,
    values: fields.map((field) => field[(j + dj) * width + i + di]!),
    by: -1,
  });
  const corners = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)];
  const centre: Corner = {
    x: (corners[0]!.x + corners[1]!.x) / 2,
    y: (corners[0]!.y + corners[2]!.y) / 2,
    values: fields.map((_, k) => corners.reduce((sum, corner) => sum + corner.values[k]!, 0) / 4),
    by: -1,
  };
  for (let side = 0; side < 4; side++) {
    let polygon: Corner[] = [corners[side]!, corners[(side + 1) % 4]!, centre];
    for (let k = 0; k < fields.length && polygon.length > 0; k++) polygon = cut(polygon, k);
    for (let p = 0; p < polygon.length; p++) edges.add(polygon[p]!, polygon[(p + 1) % polygon.length]!);
  }
}

/** Keeps the part of a convex polygon where field k is ≥ 0 (Sutherland & Hodgman 1974). */
function cut(polygon: readonly Corner[], k: number): Corner[] {
  const kept: Corner[] = [];
  for (let p = 0; p < polygon.length; p++) {
    const from = polygon[p]!;
    const to = polygon[(p + 1) % polygon.length]!;
    const fromIn = from.values[k]! >= 0;
    const toIn = to.values[k]! >= 0;
    if (fromIn) kept.push(from);
    if (fromIn !== toIn) kept.push(fromIn ? crossing(from, to, k, k) : crossing(to, from, k, from.by));
  }
  return kept;
}

/** Where field k is zero between an inner and an outer corner; always reckoned from the inner one. */
function crossing(inner: Corner, outer: Corner, k: number, by: number): Corner {
  const share = inner.values[k]! / (inner.values[k]! - outer.values[k]!);
  const values = inner.values.map((value, m) => value + (outer.values[m]! - value) * share);
  values[k] = 0;
  return { x: inner.x + (outer.x - inner.x) * share, y: inner.y + (outer.y - inner.y) * share, values, by };
}

interface Edge {
  readonly from: number;
  readonly to: number;
  readonly by: number;
  /** Another one between the same places the same way, as slivers leave behind. */
  readonly twin: Edge | undefined;
}

/** Collects directed edges; two that run opposite between the same places cancel, what is left is the rim. */
class Edges {
  private readonly lattice: Lattice;
  private readonly places = new Map<number, number>();
  private readonly x: number[] = [];
  private readonly y: number[] = [];
  private readonly open = new Map<number, Edge>();

  constructor(lattice: Lattice) {
    this.lattice = lattice;
  }

  add(from: Corner, to: Corner): void {
    this.put(this.placeOf(from.x, from.y), this.placeOf(to.x, to.y), from.by);
  }

  /** A side of a cell that lies whole inside. */
  addSide(fromI: number, fromJ: number, toI: number, toJ: number): void {
    const { x, y } = this.lattice;
    this.put(this.placeOf(x[fromI]!, y[fromJ]!), this.placeOf(x[toI]!, y[toJ]!), -1);
  }

  private placeOf(x: number, y: number): number {
    const { x: xs, y: ys } = this.lattice;
    const u = Math.round(((x - xs[0]!) / (xs[xs.length - 1]! - xs[0]!)) * RESOLUTION);
    const v = Math.round(((y - ys[0]!) / (ys[ys.length - 1]! - ys[0]!)) * RESOLUTION);
    const key = u * 2 ** 25 + v;
    let place = this.places.get(key);
    if (place === undefined) {
      place = this.x.length;
      this.places.set(key, place);
      this.x.push(x);
      this.y.push(y);
    }
    return place;
  }

  private put(from: number, to: number, by: number): void {
    if (from === to) return;
    const opposite = to * 2 ** 25 + from;
    const meets = this.open.get(opposite);
    if (meets) {
      if (meets.twin) this.open.set(opposite, meets.twin);
      else this.open.delete(opposite);
      return;
    }
    const key = from * 2 ** 25 + to;
    this.open.set(key, { from, to, by, twin: this.open.get(key) });
  }

  chain(): Loop[] {
    const starting = new Map<number, Edge[]>();
    for (const first of this.open.values()) {
      for (let edge: Edge | undefined = first; edge; edge = edge.twin) {
        const list = starting.get(edge.from);
        if (list) list.push(edge);
        else starting.set(edge.from, [edge]);
      }
    }
    const loops: Loop[] = [];
    for (const first of this.open.values()) {
      const path: Edge[] = [];
      let edge: Edge | undefined = take(starting, first.from);
      while (edge) {
        path.push(edge);
        edge = take(starting, edge.to);
      }
      if (path.length > 2) loops.push(this.loopOf(path));
    }
    return loops;
  }

  private loopOf(path: readonly Edge[]): Loop {
    return {
      x: path.map(({ from }) => this.x[from]!),
      y: path.map(({ from }) => this.y[from]!),
      by: path.map(({ by }) => by),
    };
  }
}

function take(starting: Map<number, Edge[]>, from: number): Edge | undefined {
  return starting.get(from)?.pop();
}

/** A piece of an edge along which one field is zero; the inside is on its left. */
export interface Stretch {
  readonly by: number;
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** Splits a closed edge into its stretches, in order; rim pieces (−1) among them. */
export function stretchesOf(loop: Loop): Stretch[] {
  const n = loop.x.length;
  let start = 0;
  while (start < n && loop.by[start] === loop.by[(start + n - 1) % n]) start++;
  if (start === n) return [{ by: loop.by[0]!, x: [...loop.x, loop.x[0]!], y: [...loop.y, loop.y[0]!] }];
  const stretches: { by: number; x: number[]; y: number[] }[] = [];
  for (let step = 0; step < n; step++) {
    const i = (start + step) % n;
    let last = stretches.at(-1);
    if (!last || last.by !== loop.by[i]) {
      last = { by: loop.by[i]!, x: [loop.x[i]!], y: [loop.y[i]!] };
      stretches.push(last);
    }
    last.x.push(loop.x[(i + 1) % n]!);
    last.y.push(loop.y[(i + 1) % n]!);
  }
  return stretches;
}

/** Area inside closed edges; holes count negative. */
export function areaOf(loops: readonly Loop[]): number {
  let twice = 0;
  for (const { x, y } of loops) {
    for (let i = 0; i < x.length; i++) {
      const next = (i + 1) % x.length;
      twice += x[i]! * y[next]! - x[next]! * y[i]!;
    }
  }
  return twice / 2;
}
