/**
 * A closed edge with the inside on its left. Edge i runs from point i to point i+1 (the last one back to the first) and
 * belongs to the field `by[i]`, which is zero along it, or to the lattice's rim where `by[i]` is −1.
 */
export interface Loop {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly by: readonly number[];
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
