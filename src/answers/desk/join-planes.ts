import type { PlaneFields } from '../../search/window/window.ts';

/** Planes over one x axis and adjoining stretches of y, in order, as one. */
export function joinPlanes(parts: readonly PlaneFields[]): PlaneFields {
  const [first] = parts;
  if (!first) throw new RangeError('no plane to join');
  const joined = (of: (part: PlaneFields) => Float64Array): Float64Array =>
    Float64Array.from(parts.flatMap((part) => [...of(part)]));
  return {
    lattice: { x: first.lattice.x, y: joined(({ lattice }) => lattice.y) },
    quantity: joined(({ quantity }) => quantity),
    logarithmic: first.logarithmic,
    limits: first.limits.map(({ name }, k) => ({ name, margin: joined(({ limits }) => limits[k]!.margin) })),
    ...(first.steady ? { steady: joined(({ steady }) => steady!) } : {}),
  };
}

/** What a plane says at a place: the quantity between nodes, and which limits are missed at the nearest node. */
export function readPlane(
  { lattice, quantity, limits, steady }: PlaneFields,
  x: number,
  y: number,
): { readonly value: number; readonly chokes: boolean; readonly missed: readonly string[] } {
  const [i, dx] = placed(lattice.x, x);
  const [j, dy] = placed(lattice.y, y);
  const width = lattice.x.length;
  const between = (field: Float64Array): number => {
    const at = (a: number, b: number) => field[(j + b) * width + i + a]!;
    return (1 - dy) * ((1 - dx) * at(0, 0) + dx * at(1, 0)) + dy * ((1 - dx) * at(0, 1) + dx * at(1, 1));
  };
  return {
    value: between(quantity),
    chokes: steady !== undefined && between(steady) < 0,
    missed: limits.filter(({ margin }) => !(between(margin) >= 0)).map(({ name }) => name),
  };
}

/** Node at or below a value, and the share of the way to the next. */
function placed(levels: Float64Array, value: number): [number, number] {
  let i = 0;
  while (i < levels.length - 2 && levels[i + 1]! <= value) i++;
  const share = (value - levels[i]!) / (levels[i + 1]! - levels[i]!);
  return [i, Math.min(1, Math.max(0, share))];
}
