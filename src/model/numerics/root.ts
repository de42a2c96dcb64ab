/** Far more than the dozen steps usual; bisection alone would need about fifty. */
const MOST_STEPS = 100;
/** More halvings than any bracket of two numbers has bits. */
const MOST_HALVINGS = 2000;

/** Two arguments between which a test changes. */
export interface Bracket {
  /** The last argument at which the test was true. */
  readonly holds: number;
  /** The last at which it was false. */
  readonly fails: number;
}

export interface BracketOptions {
  /** Distance of the two over the one that fails, at which it is enough; to the last bit where absent. */
  readonly within?: number;
  /** Halvings at most. */
  readonly steps?: number;
  /** Halve the ratio instead of the difference; both ends > 0. */
  readonly byRatio?: boolean;
}

/**
 * Closes in on where a test changes, by bisection. Neither end is tried.
 *
 * @param test true at `holds`, false at `fails`, whichever is greater
 * @returns the two ends that are left
 * @example bracket((x) => x * x < 2, 0, 2).holds // 1.41421356237
 */
export function bracket(
  test: (x: number) => boolean,
  holds: number,
  fails: number,
  { within = 0, steps = MOST_HALVINGS, byRatio = false }: BracketOptions = {},
): Bracket {
  let [inside, outside] = [holds, fails];
  for (let step = 0; step < steps && Math.abs(outside - inside) > within * Math.abs(outside); step++) {
    const middle = byRatio ? Math.sqrt(inside * outside) : (inside + outside) / 2;
    if (middle === inside || middle === outside) break;
    if (test(middle)) inside = middle;
    else outside = middle;
  }
  return { holds: inside, fails: outside };
}

/** The middle of what a bisection leaves. */
export function middleOf({ holds, fails }: Bracket): number {
  return (holds + fails) / 2;
}

/**
 * Newton's method that never leaves a bracket: a step out of it is replaced by the bracket's middle.
 *
 * @param rising function that is below zero at `low` and above at `high`
 * @param slope its derivative
 * @param start first argument
 * @param enough change of the argument at which it is enough
 * @example newtonWithin((x) => x * x - 2, (x) => 2 * x, 0, 2, 1, 1e-14) // 1.41421356237
 */
export function newtonWithin(
  rising: (x: number) => number,
  slope: (x: number) => number,
  low: number,
  high: number,
  start: number,
  enough: number,
): number {
  let [left, right, x] = [low, high, start];
  for (let step = 0; step < MOST_STEPS; step++) {
    const off = rising(x);
    if (off > 0) right = x;
    else left = x;
    const next = x - off / slope(x);
    const kept = next > left && next < right ? next : (left + right) / 2;
    const change = Math.abs(kept - x);
    x = kept;
    if (change < enough) break;
  }
  return x;
}

/**
 * Where a rising function crosses zero: regula falsi in its Illinois form, which never leaves the bracket.
 *
 * @param rising function of one variable, not falling
 * @param low, high ends with rising(low) ≤ 0 ≤ rising(high)
 * @returns the argument, to about the 14th digit of the bracket
 * @example crossing((x) => x * x - 2, 0, 2) // 1.41421356237
 */
export function crossing(rising: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [below, above] = [rising(a), rising(b)];
  if (below === 0) return a;
  let kept = 0;
  for (let step = 0; step < MOST_STEPS && b - a > 1e-14 * (Math.abs(a) + Math.abs(b)); step++) {
    const x = (a * above - b * below) / (above - below);
    const value = rising(x);
    if (value === 0 || x === a || x === b) return x;
    if (value < 0) {
      [a, below] = [x, value];
      if (kept === -1) above /= 2;
      kept = -1;
    } else {
      [b, above] = [x, value];
      if (kept === 1) below /= 2;
      kept = 1;
    }
  }
  return -below < above ? a : b;
}
