import type { Loop } from './closed-curve.ts';
import { Edges } from './edges.ts';
import type { Field, Lattice } from './lattice.ts';

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
