import type { Loop } from './closed-curve.ts';
import type { Lattice } from './lattice.ts';

/** Fineness in which places are told apart, as a share of the lattice's width. */
const RESOLUTION = 1e7;

/** Where an edge starts, and the field that is zero along it. */
interface EdgeStart {
  readonly x: number;
  readonly y: number;
  readonly by: number;
}

interface Edge {
  readonly from: number;
  readonly to: number;
  readonly by: number;
  /** Another one between the same places the same way, as slivers leave behind. */
  readonly twin: Edge | undefined;
}

/** Collects directed edges; two that run opposite between the same places cancel, what is left is the rim. */
export class Edges {
  private readonly lattice: Lattice;
  private readonly places = new Map<number, number>();
  private readonly x: number[] = [];
  private readonly y: number[] = [];
  private readonly open = new Map<number, Edge>();

  constructor(lattice: Lattice) {
    this.lattice = lattice;
  }

  /** An edge between two corners of a cut cell; the field it belongs to is the first one's. */
  add(from: EdgeStart, to: Pick<EdgeStart, 'x' | 'y'>): void {
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

  /** What is left, end to end. */
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
