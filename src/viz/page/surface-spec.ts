/** A surface over a lattice. */
interface Surface {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  readonly z: readonly (readonly number[])[];
  readonly colors: readonly string[];
  readonly range: readonly [number, number];
}

/** A surface as the plotting library takes it. */
export function surfaceSpec({ x, y, z, colors, range }: Surface) {
  const last = colors.length - 1;
  return {
    type: 'surface',
    x,
    y,
    z,
    cmin: range[0],
    cmax: range[1],
    showscale: false,
    colorscale: colors.map((color, i) => [i / last, color]),
    hoverinfo: 'skip',
  };
}
