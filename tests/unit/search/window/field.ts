import { type Field, type Lattice, nodes } from '../../../../src/search/window/lattice.ts';

/** Value of `of` at every node. */
export function fieldOf(lattice: Lattice, of: (x: number, y: number) => number): Field {
  const field = new Float64Array(nodes(lattice));
  let k = 0;
  for (const y of lattice.y) for (const x of lattice.x) field[k++] = of(x, y);
  return field;
}
