import { newtonWithin } from '../numerics/root.ts';
/** Cumulative undersize known at class edges; between them a monotone cubic in ln x. */
export interface SizeCurve {
  /** Edges [m], ascending. */
  readonly edges: Float64Array;
  /** Q at each edge, 0…1. */
  readonly undersize: Float64Array;
  /** dQ/d ln x at each edge of the monotone cubic. */
  readonly slopes: Float64Array;
}

/**
 * Curve through cumulative undersize at given edges: cubic Hermite in ln x with slopes of high order, limited to three
 * times the smaller neighbouring secant, so that it stays monotone and never overshoots (eq. S2; `published`: Hyman, SIAM J. Sci.
 * Stat. Comput. 4 (1983) 645, after Fritsch & Carlson 1980).
 *
 * @param edges [m], ascending, length n+1
 * @param undersize Q at the edges, ascending 0…1
 * @returns the curve; arrays are kept, not copied
 */
export function buildCurve(edges: Float64Array, undersize: Float64Array): SizeCurve {
  const slopes = new Float64Array(edges.length);
  const last = edges.length - 1;
  for (let i = 0; i <= last; i++) {
    const low = Math.max(0, i - 1);
    const high = Math.min(last, i + 1);
    const left = Math.log(edges[i]! / edges[low]!);
    const right = Math.log(edges[high]! / edges[i]!);
    const before = left > 0 ? (undersize[i]! - undersize[low]!) / left : Number.NaN;
    const after = right > 0 ? (undersize[high]! - undersize[i]!) / right : Number.NaN;
    if (i === 0) slopes[i] = after;
    else if (i === last) slopes[i] = before;
    else slopes[i] = limited((before * right + after * left) / (left + right), before, after);
  }
  return { edges, undersize, slopes };
}

/**
 * The same on a geometric grid, with slopes of fourth order from five edges, into given arrays.
 *
 * @param undersize Q at the edges
 * @param logRatio ln of the grid's ratio
 * @param slopes dQ/d ln x, written in place
 */
export function fillSlopes(undersize: Float64Array, logRatio: number, slopes: Float64Array): void {
  const last = undersize.length - 1;
  const perStep = 1 / logRatio;
  let before = (undersize[1]! - undersize[0]!) * perStep;
  slopes[0] = before;
  for (let i = 1; i < last; i++) {
    const after = (undersize[i + 1]! - undersize[i]!) * perStep;
    const near = 0.5 * (before + after);
    const inner = i > 1 && i < last - 1;
    const far = inner ? (undersize[i + 2]! - undersize[i - 2]!) * (0.25 * perStep) : near;
    slopes[i] = limited((4 * near - far) * THIRD, before, after);
    before = after;
  }
  slopes[last] = before;
}

const THIRD = 1 / 3;

/** A slope kept between zero and three times the smaller of its two secants. */
function limited(slope: number, before: number, after: number): number {
  const most = 3 * Math.min(before, after);
  return Math.max(0, Math.min(slope, most));
}

/**
 * Q(x): cumulative undersize at a size.
 *
 * @param curve from `buildCurve`
 * @param size x [m]
 * @returns Q; 0 below the first edge, the last value above the last
 */
export function undersizeAt({ edges, undersize, slopes }: SizeCurve, size: number): number {
  const last = edges.length - 1;
  if (!(size > edges[0]!)) return undersize[0]!;
  if (size >= edges[last]!) return undersize[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (edges[middle]! <= size) low = middle;
    else high = middle;
  }
  const width = Math.log(edges[low + 1]! / edges[low]!);
  const t = Math.log(size / edges[low]!) / width;
  return cubic(undersize[low]!, undersize[low + 1]!, slopes[low]! * width, slopes[low + 1]! * width, t);
}

/** Cubic Hermite on 0…1. */
function cubic(from: number, to: number, slopeFrom: number, slopeTo: number, t: number): number {
  const rise = to - from;
  return (
    from + t * (slopeFrom + t * (3 * rise - 2 * slopeFrom - slopeTo + t * (slopeFrom + slopeTo - 2 * rise)))
  );
}

/**
 * Size below which a share of the mass lies: the same cubic inverted, by Newton kept inside its interval.
 *
 * @param curve from `buildCurve`
 * @param share wanted Q, 0…1
 * @returns x [m]; NaN where the share lies in the finest class (finer than the second edge) or is never reached
 */
export function sizeAt({ edges, undersize, slopes }: SizeCurve, share: number): number {
  const last = edges.length - 1;
  if (!(share > undersize[1]!) || !(share <= undersize[last]!)) return Number.NaN;
  let low = 1;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (undersize[middle]! < share) low = middle;
    else high = middle;
  }
  const width = Math.log(edges[low + 1]! / edges[low]!);
  const from = undersize[low]!;
  const rise = undersize[low + 1]! - from;
  const first = slopes[low]! * width;
  const second = slopes[low + 1]! * width;
  const t = newtonWithin(
    (at) => cubic(from, from + rise, first, second, at) - share,
    (at) => first + at * (2 * (3 * rise - 2 * first - second) + 3 * at * (first + second - 2 * rise)),
    0,
    1,
    (share - from) / rise,
    1e-14,
  );
  return edges[low]! * Math.exp(t * width);
}
