/** Geometric size classes (eq. S1): class i is (edges[i], edges[i+1]], class 0 also all finer. */
export interface Grid {
  /** n+1 edges e_0 < … < e_n [m]. */
  readonly edges: Float64Array;
  /** n representative sizes x_i = √(e_i e_{i+1}) [m]. */
  readonly sizes: Float64Array;
  /** n. */
  readonly classes: number;
  /** e_{i+1}/e_i [-]. */
  readonly ratio: number;
  /** ln of it. */
  readonly logRatio: number;
}

export interface GridOptions {
  /** Lowest edge e_0 [m], at least; moved down where `edgeAt` or `centreAt` ask it. */
  readonly smallest: number;
  /** Size [m] the grid must reach; it is extended above, never cut off to fit. */
  readonly top: number;
  readonly classesPerOctave: number;
  /** Size [m] that shall be a class edge. */
  readonly edgeAt?: number;
  /** Size [m] that shall be the middle of a class. */
  readonly centreAt?: number;
}

/**
 * Geometric grid from `smallest` to at least `top`.
 *
 * @returns edges [m], representative sizes [m]
 * @example buildGrid({ smallest: 1e-7, top: 1e-3, classesPerOctave: 8 }).classes // 107
 */
export function buildGrid({ smallest, top, classesPerOctave, edgeAt, centreAt }: GridOptions): Grid {
  const step = 1 / classesPerOctave;
  const anchor = edgeAt ?? (centreAt === undefined ? smallest : centreAt * 2 ** (step / 2));
  const below = classesUpTo(smallest, anchor, step);
  const classes = Math.max(2, below + classesUpTo(anchor, top, step));
  const edges = new Float64Array(classes + 1);
  const sizes = new Float64Array(classes);
  for (let i = 0; i <= classes; i++) edges[i] = anchor * 2 ** ((i - below) * step);
  for (let i = 0; i < classes; i++) sizes[i] = anchor * 2 ** ((i - below + 0.5) * step);
  return { edges, sizes, classes, ratio: 2 ** step, logRatio: step * Math.LN2 };
}

/** Whole classes from a size to at least another. */
function classesUpTo(from: number, to: number, step: number): number {
  return Math.ceil(Math.log2(to / from) / step - 1e-9);
}

/** Whether two wishes without `edgeAt` and `centreAt` give the same grid: a top moved within its class changes nothing. */
export function isSameGrid(a: GridOptions, b: GridOptions): boolean {
  const step = 1 / a.classesPerOctave;
  return (
    a.smallest === b.smallest &&
    a.classesPerOctave === b.classesPerOctave &&
    classesUpTo(a.smallest, a.top, step) === classesUpTo(b.smallest, b.top, step)
  );
}

/** Distance in ln x of a class's two points from its middle, over the class's width: Gauss's points of two. */
export const GAUSS = 1 / Math.sqrt(12);

/** Classes per octave at least. */
const FEWEST = 8;

/**
 * Classes per octave that resolve a wheel's curve: max(8, 0.55 m), m of eq. 19 (eq. S1).
 *
 * @param exponent m of 1 − exp(−ln2 z^m); of another law the m of equal κ
 */
export function classesNeeded(exponent: number): number {
  return Math.max(FEWEST, 0.55 * exponent);
}
