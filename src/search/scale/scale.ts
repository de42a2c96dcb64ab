import type { Case } from '../../model/case.ts';
import { bracket } from '../../model/numerics/root.ts';
import type { Solved } from '../../scenario/outcome/quantity.ts';
import { type Bands, bandsOf } from './bands.ts';
import { type Limit, type MoreLimits, machineLimits, productLimit, tightest } from './limits.ts';
import { type Match, matchProduct } from './match.ts';
import { type Difference, differenceOf } from './product.ts';
import { type Machine, onMachine } from './target.ts';

/** A point of the other machine with the same product. */
export interface ScaledPoint extends Match {
  readonly difference: Difference;
  readonly limits: readonly Limit[];
  /** The limit it is nearest to, or furthest beyond. */
  readonly limit: Limit;
  readonly bands: Bands;
}

export interface Scaled {
  /** At the first machine's solids per air: the point that carries over and back. */
  readonly same: ScaledPoint | undefined;
  /** At the highest feed rate with the same product within every limit; absent where none is. */
  readonly most: ScaledPoint | undefined;
  /** What stops a higher rate. */
  readonly stoppedBy: Limit;
}

interface ScaleOptions {
  /** Air flow of the other machine, stated as the first one's [m³/s]. */
  readonly airFlow?: number;
  readonly limits?: MoreLimits;
}

/** Difference of x50, x95 and x97 within which a product counts as the same [-]. */
export const SAME_PRODUCT = 0.02;
/** More than the difference at equal loading may come on top with the rate, on machines that are not alike. */
const WIDENING = 0.01;
const FIRST_STEP = 1.2;
const MOST_TIMES = 20;
const RATE_WITHIN = 1e-3;

/**
 * Carries a point over to another machine: speeds for the same product at equal solids per air, and the highest rate with
 * the same product, with what limits it.
 *
 * Air follows the wheel's free area (equal inflow velocity) unless given. Rotor and wheel speed are matched to the whole
 * curve at each rate; the rate is bracketed by the first limit passed.
 *
 * @param from solved point of the first machine
 * @param machine the other machine
 */
export function scaleTo(from: Solved, machine: Machine, options: ScaleOptions = {}): Scaled {
  const wanted = from.curve;
  const start = onMachine(from.case, machine, options.airFlow);
  const same = matchProduct(start, wanted);
  const base = same ? differenceOf(same.solved.curve, wanted).worst : 0;
  const judge = (match: Match): { difference: Difference; limits: Limit[]; limit: Limit } => {
    const difference = differenceOf(match.solved.curve, wanted);
    const product = productLimit(difference, Math.max(SAME_PRODUCT, base + WIDENING));
    const limits = [...machineLimits(match.solved), ...(options.limits?.(match.solved) ?? []), product];
    return { difference, limits, limit: tightest(limits) };
  };
  const { most, stoppedBy } = highestRate(
    same?.case ?? start,
    same,
    (match) => judge(match).limit,
    (c) => matchProduct(c, wanted),
  );
  const scaled = (match: Match): ScaledPoint => ({
    ...match,
    ...judge(match),
    bands: bandsOf(match.case, wanted),
  });
  return {
    same: same && scaled(same),
    most: most && scaled(most),
    stoppedBy,
  };
}

const CHOKES: Limit = { name: 'choking', use: Number.POSITIVE_INFINITY };

/** Highest feed rate at which no limit is passed, by steps up or down from the start and bisection. */
function highestRate(
  start: Case,
  first: Match | undefined,
  limitAt: (match: Match) => Limit,
  matchAt: (c: Case) => Match | undefined,
): { readonly most: Match | undefined; readonly stoppedBy: Limit } {
  const rate0 = start.settings.feedRate;
  const at = (rate: number, near: Case) => {
    const match =
      rate === rate0 ? first : matchAt({ ...near, settings: { ...near.settings, feedRate: rate } });
    const limit = match ? limitAt(match) : CHOKES;
    return { rate, match, limit, within: match !== undefined && limit.use <= 1 };
  };
  const here = at(rate0, start);
  let good = here.within ? here : undefined;
  let bad = here.within ? undefined : here;
  while (!bad && good && good.rate < MOST_TIMES * rate0) {
    const next = at(good.rate * FIRST_STEP, good.match!.case);
    if (next.within) good = next;
    else bad = next;
  }
  while (!good && bad && bad.rate > rate0 / MOST_TIMES) {
    const next = at(bad.rate / FIRST_STEP, bad.match?.case ?? start);
    if (next.within) good = next;
    else bad = next;
  }
  const within = (rate: number): boolean => {
    const next = at(rate, good!.match!.case);
    if (next.within) good = next;
    else bad = next;
    return next.within;
  };
  if (good && bad) bracket(within, good.rate, bad.rate, { within: RATE_WITHIN, byRatio: true });
  return { most: good?.match, stoppedBy: bad?.limit ?? good!.limit };
}
