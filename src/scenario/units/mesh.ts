import { SIEVES } from '../../model/psd/sieves.ts';
import { type Problem, problem } from './unit-problem.ts';

/**
 * Opening of an ASTM E11 sieve (recalled: ASTM E11).
 *
 * @param number mesh number
 * @returns [m], or the problem with the nearest number
 * @example sieveOpening(200) // 75e-6
 */
export function sieveOpening(number: number): number | Problem {
  if (Object.hasOwn(SIEVES, number)) return SIEVES[number]!;
  const numbers = Object.keys(SIEVES).map(Number);
  const nearest = numbers.reduce((a, b) => (Math.abs(b - number) < Math.abs(a - number) ? b : a));
  return problem(`${number} mesh is not an ASTM E11 sieve; the nearest is ${nearest} mesh`);
}
