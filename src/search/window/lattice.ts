/** A rectangular lattice over two factors; node (i, j) stands at index j·x.length + i. */
export interface Lattice {
  /** Ascending; any unit, the caller's. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** One value a node of a lattice; NaN where it does not exist. */
export type Field = Float64Array;

/** Number of nodes. */
export function nodes(lattice: Lattice): number {
  return lattice.x.length * lattice.y.length;
}

/** Value of `of` at every node. */
export function fieldOf(lattice: Lattice, of: (x: number, y: number) => number): Field {
  const field = new Float64Array(nodes(lattice));
  let k = 0;
  for (const y of lattice.y) for (const x of lattice.x) field[k++] = of(x, y);
  return field;
}

/**
 * Value at any place, bilinear between nodes and held at the rim; NaN where one of the four nodes has none.
 *
 * @example valueAt({ x: [0, 1], y: [0, 1] }, [0, 1, 1, 2], 0.5, 0.5) // 1
 */
export function valueAt(lattice: Lattice, field: Field, x: number, y: number): number {
  const [i, u] = place(lattice.x, x);
  const [j, v] = place(lattice.y, y);
  const width = lattice.x.length;
  const right = Math.min(i + 1, width - 1);
  const up = Math.min(j + 1, lattice.y.length - 1);
  const low = mix(field[j * width + i]!, field[j * width + right]!, u);
  const high = mix(field[up * width + i]!, field[up * width + right]!, u);
  return mix(low, high, v);
}

/** Node at or below a value, and the share of the way to the next; held at both ends. */
export function place(levels: ArrayLike<number>, value: number): [index: number, share: number] {
  const last = levels.length - 1;
  if (last <= 0 || !(value > levels[0]!)) return [0, 0];
  if (value >= levels[last]!) return [last - 1, 1];
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (levels[middle]! <= value) low = middle;
    else high = middle;
  }
  return [low, (value - levels[low]!) / (levels[high]! - levels[low]!)];
}

/** (1 − share)·a + share·b, where an end with no weight may be NaN. */
export function mix(a: number, b: number, share: number): number {
  if (share === 0) return a;
  if (share === 1) return b;
  return a + (b - a) * share;
}
