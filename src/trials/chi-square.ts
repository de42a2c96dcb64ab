import { bracket, middleOf } from '../model/numerics/root.ts';

const TINY = 1e-300;
const PRECISION = 1e-15;
const MOST_TERMS = 1000;
/** Lanczos coefficients, g = 7 (recalled: Press et al., Numerical Recipes, 3rd ed. §6.1 form; checked against a table). */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** ln Γ(a), a > 0, by Lanczos' sum. */
export function logGamma(a: number): number {
  const x = a - 1;
  let sum = LANCZOS[0]!;
  for (let i = 1; i < LANCZOS.length; i++) sum += LANCZOS[i]! / (x + i);
  const t = x + LANCZOS.length - 1.5;
  return 0.5 * Math.log(2 * Math.PI) + (x + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** P(a, x) by its series, x < a + 1. */
function gammaSeries(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n < MOST_TERMS && Math.abs(term) > PRECISION * Math.abs(sum); n++) {
    term *= x / (a + n);
    sum += term;
  }
  return sum * Math.exp(a * Math.log(x) - x - logGamma(a));
}

/** Q(a, x) by its continued fraction (Lentz), x ≥ a + 1. */
function gammaFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let h = d;
  for (let i = 1; i < MOST_TERMS; i++) {
    const an = -i * (i - a);
    b += 2;
    d = 1 / (an * d + b || TINY);
    c = b + an / c || TINY;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < PRECISION) break;
  }
  return h * Math.exp(a * Math.log(x) - x - logGamma(a));
}

/**
 * Chance that a chi-square variable exceeds a value: Q(ν/2, χ²/2).
 *
 * @param value χ² ≥ 0
 * @param freedom degrees of freedom ν > 0
 * @returns 0…1
 * @example chiSquareTail(3.841459, 1) // 0.05
 */
export function chiSquareTail(value: number, freedom: number): number {
  if (value <= 0) return 1;
  const a = freedom / 2;
  const x = value / 2;
  return x < a + 1 ? 1 - gammaSeries(a, x) : gammaFraction(a, x);
}

/**
 * Value a chi-square variable exceeds with a given chance; bisection on `chiSquareTail`.
 *
 * @param tail chance, 0…1
 * @param freedom degrees of freedom ν > 0
 * @example chiSquareLimit(0.05, 2) // 5.9915
 */
export function chiSquareLimit(tail: number, freedom: number): number {
  const below = (value: number) => chiSquareTail(value, freedom) > tail;
  let high = freedom + 10;
  while (below(high)) high *= 2;
  return middleOf(bracket(below, 0, high, { within: 1e-12 }));
}
