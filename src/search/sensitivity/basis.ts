import { type Axis, placeOn } from './axis.ts';

/** A product of one-factor functions, orthonormal over the factors' ranges: which function of each factor, 0 is 1. */
export type Term = readonly number[];

/** Highest number of functions of one factor. */
export function functionsOf(axis: Axis, degree: number): number {
  return axis.kind === 'names' ? Math.min(axis.count - 1, degree === 0 ? 0 : axis.count - 1) : degree;
}

/**
 * Terms up to a total degree, the constant first. Any contrast of names counts as degree 1.
 *
 * @param most terms wanted at most; undefined where there would be more
 */
export function termsUpTo(axes: readonly Axis[], degree: number, most: number): Term[] | undefined {
  let terms: { readonly term: number[]; readonly degree: number }[] = [{ term: [], degree: 0 }];
  for (const axis of axes) {
    terms = terms.flatMap(({ term, degree: used }) =>
      Array.from({ length: functionsOf(axis, degree) + 1 }, (_, k) => ({
        term: [...term, k],
        degree: used + (axis.kind === 'names' ? Math.min(k, 1) : k),
      })).filter((next) => next.degree <= degree),
    );
    if (terms.length > 20 * most) return undefined;
  }
  return terms.length > most ? undefined : terms.map(({ term }) => term);
}

/**
 * Values of the one-factor functions at a coordinate: normalised Legendre polynomials √(2k+1) P_k over a range
 * (recurrence `recalled`: Abramowitz & Stegun 22.7.10), orthonormal contrasts (Helmert's) over names. A factor that
 * changes nothing stands at the middle of its range, or at no contrast.
 *
 * @param out receives functions 0 … out.length − 1
 */
export function fillFunctions(axis: Axis, value: number, out: Float64Array): void {
  out[0] = 1;
  if (axis.kind === 'names') {
    for (let k = 1; k < out.length; k++) out[k] = helmert(value, k, axis.count);
    return;
  }
  const t = Number.isNaN(value) ? 0 : 2 * placeOn(axis, value) - 1;
  let before = 0;
  let now = 1;
  for (let k = 1; k < out.length; k++) {
    const next = ((2 * k - 1) * t * now - (k - 1) * before) / k;
    before = now;
    now = next;
    out[k] = Math.sqrt(2 * k + 1) * next;
  }
}

/** Contrast k = 1…n−1 of level 0…n−1: mean 0 and mean square 1 over the levels. */
function helmert(level: number, k: number, n: number): number {
  if (Number.isNaN(level) || level > k) return 0;
  const size = Math.sqrt(n / (k * (k + 1)));
  return level === k ? -k * size : size;
}
