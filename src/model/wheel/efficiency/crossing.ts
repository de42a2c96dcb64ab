/** Far more than the dozen steps usual; bisection alone would need about fifty. */
const MOST_STEPS = 100;

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
