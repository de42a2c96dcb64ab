/** A point that meets the spec and may be put forward. */
export interface Candidate {
  /** Share of the samples of the coefficients that meet the whole spec; 1 or 0 each, sample by sample. */
  readonly meets: readonly boolean[];
  /** Goal at the coefficients as they stand, the larger the better. */
  readonly goal: number;
  /** Smallest relative margin, which decides between equal goals. */
  readonly margin: number;
}

/** Within this much of the highest probability the better goal decides (`chosen`: what two hundred samples can tell apart). */
export const EVEN = 0.02;
/** Standard errors by which two probabilities must differ to be told apart. */
const APART = 2;

/**
 * The point to run first: the highest probability of meeting the whole spec, and within 2 percentage points of it the best
 * goal. One rule for a search, a sweep and a page.
 *
 * @returns undefined where there is no candidate
 */
export function firstToRun<T extends Candidate>(candidates: readonly T[]): T | undefined {
  const most = Math.max(...candidates.map(shareOf));
  return bestGoal(candidates.filter((each) => shareOf(each) >= most - EVEN - 1e-12));
}

/** The point with the best goal; among equal goals the one farthest from its limits. */
export function bestGoal<T extends Candidate>(candidates: readonly T[]): T | undefined {
  const [first, ...rest] = candidates;
  if (!first) return undefined;
  return rest.reduce((best, each) => (isBetterGoal(each, best) ? each : best), first);
}

function isBetterGoal(a: Candidate, b: Candidate): boolean {
  if (a.goal !== b.goal) return a.goal > b.goal || Number.isNaN(b.goal);
  return a.margin > b.margin;
}

/** Share of the samples that meet the whole spec. */
export function shareOf({ meets }: Pick<Candidate, 'meets'>): number {
  return meets.length === 0 ? Number.NaN : meets.filter(Boolean).length / meets.length;
}

/**
 * Whether the samples cannot tell two points apart: their probabilities differ by no more than the better goal decides, or by
 * less than two standard errors of the samples in which only one of them meets the spec.
 */
export function isEven(a: Pick<Candidate, 'meets'>, b: Pick<Candidate, 'meets'>): boolean {
  const onlyA = a.meets.filter((met, k) => met && !b.meets[k]).length;
  const onlyB = b.meets.filter((met, k) => met && !a.meets[k]).length;
  const apart = Math.abs(onlyA - onlyB);
  return apart <= EVEN * a.meets.length + 1e-9 || apart <= APART * Math.sqrt(onlyA + onlyB);
}

/** Goals this near each other lie within the uncertainty of any coefficient that is not measured (`chosen`). */
const GOALS_EVEN = 0.05;

/** The same of a search, which finds the best goal of a wheel among even probabilities no nearer than this (`chosen`). */
export const SEARCHED_EVEN = 0.2;

/**
 * Whether two points are a tie: the samples cannot tell them apart, and their goals are even.
 *
 * @param within goals this near each other are even, as a share of the second
 */
export function isTie(a: Candidate, b: Candidate, within = GOALS_EVEN): boolean {
  return isEven(a, b) && Math.abs(a.goal - b.goal) <= within * Math.abs(b.goal);
}
