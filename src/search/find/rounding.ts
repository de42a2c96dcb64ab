import type { Factor } from '../../scenario/scenario.ts';
import { fromShown, toShown } from '../../scenario/units/display.ts';
import { isBetter, type Merit } from './objective.ts';

const FEWEST_DIGITS = 3;
const MOST_DIGITS = 7;
/** Digits at most of settings that are found by their probability, which no digit beyond decides. */
const PANEL_DIGITS = 5;
/** A near miss may be so much farther in numbers a panel can take. */
const MISS_LOSS = 1e-2;
/** Part of the goal that may be given up for numbers a panel can take. */
const LOSS = 4e-3;
/** Roundings tried for each number: that many steps down and up; fewer where many numbers vary. */
const TRIED = { few: [-1, 0, 1, 2], many: [0, 1] } as const;
const FEW_NUMBERS = 4;

/** A point in numbers a panel can take. */
interface Rounded {
  readonly coordinates: Float64Array;
  readonly merit: Merit;
}

/**
 * The point in as few digits as keep every limit and nearly all of the goal. Each number is tried rounded a few
 * steps down and up, in the unit it is shown in.
 */
export function roundedPoint(
  coordinates: Float64Array,
  merit: Merit,
  factors: readonly Factor[],
  numbers: readonly number[],
  judge: (coordinates: Float64Array) => Merit,
): Rounded {
  for (let digits = FEWEST_DIGITS; digits <= MOST_DIGITS; digits++) {
    const best = bestCorner(coordinates, factors, numbers, digits, judge);
    if (isAsGood(best.merit, merit)) return best;
  }
  return { coordinates, merit };
}

function isAsGood(rounded: Merit, exact: Merit): boolean {
  if (exact.violation > 0) return rounded.violation <= exact.violation * (1 + MISS_LOSS);
  return rounded.violation === 0 && rounded.goal >= exact.goal - LOSS * Math.abs(exact.goal);
}

function bestCorner(
  coordinates: Float64Array,
  factors: readonly Factor[],
  numbers: readonly number[],
  digits: number,
  judge: (coordinates: Float64Array) => Merit,
): Rounded {
  const tried: readonly number[] = numbers.length <= FEW_NUMBERS ? TRIED.few : TRIED.many;
  let best: Rounded | undefined;
  for (let corner = 0; corner < tried.length ** numbers.length; corner++) {
    const at = Float64Array.from(coordinates);
    let rest = corner;
    for (const j of numbers) {
      at[j] = roundTo(coordinates[j]!, factors[j]!, digits, tried[rest % tried.length]!);
      rest = Math.floor(rest / tried.length);
    }
    const merit = judge(at);
    if (!best || isBetter(merit, best.merit)) best = { coordinates: at, merit };
  }
  return best!;
}

/** A coordinate in so many digits of its shown unit, some steps above the one below it, kept within its range. */
function roundTo(value: number, factor: Factor, digits: number, steps: number): number {
  if (factor.kind !== 'number' || factor.integer) return value;
  const shown = toShown(value, factor.shownIn);
  const unit = 10 ** (Math.floor(Math.log10(Math.abs(shown) || 1)) + 1 - digits);
  const below = Math.floor(shown / unit + 1e-9);
  const rounded = fromShown(Number(((below + steps) * unit).toPrecision(digits + 2)), factor.shownIn);
  return Math.min(factor.to, Math.max(factor.from, rounded));
}

/**
 * A point in numbers a panel can take: the fewest digits that miss the limits no more than the exact point does, at most five.
 * Levels and whole numbers stay.
 */
export function panelPoint(
  exact: Float64Array,
  factors: readonly Factor[],
  judge: (coordinates: Float64Array) => Merit,
): Float64Array {
  const rounded = (digits: number) =>
    Float64Array.from(exact, (value, j) => panelStep(factors[j]!, value, digits));
  const { violation } = judge(exact);
  for (let digits = FEWEST_DIGITS; digits < PANEL_DIGITS; digits++) {
    const at = rounded(digits);
    if (judge(at).violation <= violation) return at;
  }
  return rounded(PANEL_DIGITS);
}

/** The nearest number of so many digits of the unit shown, within the range: 1820 rpm, not 1817.3. */
export function panelStep(factor: Factor, value: number, digits: number = FEWEST_DIGITS): number {
  if (factor.kind !== 'number' || factor.integer) return value;
  const shown = Number(toShown(value, factor.shownIn).toPrecision(digits));
  return Math.min(factor.to, Math.max(factor.from, fromShown(shown, factor.shownIn)));
}
