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
