/** A size class [m] and its value: a share, or a density before it is multiplied by the width. */
export interface SizeClass {
  readonly lower: number;
  readonly upper: number;
  readonly share: number;
}

/** Unit of a density per size, where its heading names it. */
export type DensityUnit = 'nm' | 'um' | 'mm';

const PER_METRE: Readonly<Record<DensityUnit, number>> = { nm: 1e9, um: 1e6, mm: 1e3 };
const WITHIN = 0.02;

/**
 * A density → shares: ΔQ = q Δx, or q* Δ(ln x) for one per logarithm (ISO 9276-1 forms, recalled). An open end class takes
 * the ratio of its neighbour. The whole is 1 or 100 and the logarithm natural or decadic, whichever brings the sum within
 * 2 % of 100 %; where none does, the values are scaled to 100 % unless their unit is stated, which the sum then contradicts.
 *
 * @param classes ascending, values as written
 * @param how whether the density is one per logarithm; the unit it is per, where stated
 * @returns shares that sum to about 1; `exact` where the sum was within 2 % without scaling
 * @example sharesOfDensity([{ lower: 0, upper: 1e-6, share: 0.5 }, { lower: 1e-6, upper: 2e-6, share: 0.3 }, { lower: 2e-6, upper: 3e-6, share: 0.45 }], { log: false }).exact // true
 */
export function sharesOfDensity(
  classes: readonly SizeClass[],
  how: { readonly log: boolean; readonly per?: DensityUnit },
): { readonly classes: readonly SizeClass[]; readonly remarks: readonly string[]; readonly exact: boolean } {
  const closed = classes.map((one, i) => closedClass(one, classes[i - 1], classes[i + 1]));
  const weighed = closed.map(({ lower, upper, share }) => ({
    lower,
    upper,
    share: share * (how.log ? Math.log(upper / lower) : upper - lower),
  }));
  const sum = weighed.reduce((total, { share }) => total + share, 0);
  const factors = how.log ? [1, 1 / Math.LN10] : how.per ? [PER_METRE[how.per]] : Object.values(PER_METRE);
  const wholes = factors.flatMap((factor) => [factor, factor / 100]);
  const near = wholes.reduce((a, b) => (Math.abs(Math.log(b * sum)) < Math.abs(Math.log(a * sum)) ? b : a));
  const exact = Math.abs(near * sum - 1) <= WITHIN;
  const scale = exact || how.per ? near : 1 / sum;
  const remarks = ['density times class width'];
  if (!exact && !how.per) remarks.push('the unit of the density is not stated: its sum was scaled to 100 %');
  return { classes: weighed.map((one) => ({ ...one, share: one.share * scale })), remarks, exact };
}

function closedClass(one: SizeClass, before: SizeClass | undefined, after: SizeClass | undefined): SizeClass {
  if (one.lower === 0) {
    const ratio = after && Number.isFinite(after.upper) ? after.upper / one.upper : 2;
    return { ...one, lower: one.upper / ratio };
  }
  if (Number.isFinite(one.upper)) return one;
  const ratio = before && before.lower > 0 ? one.lower / before.lower : 2;
  return { ...one, upper: one.lower * ratio };
}
