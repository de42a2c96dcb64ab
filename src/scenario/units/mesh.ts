import { type Problem, problem } from './problem.ts';

/** Openings of the ASTM E11 sieves by number [µm] (recalled: ASTM E11, ISO 3310-1). */
const OPENINGS: Readonly<Record<string, number>> = {
  4: 4750,
  5: 4000,
  6: 3350,
  7: 2800,
  8: 2360,
  10: 2000,
  12: 1700,
  14: 1400,
  16: 1180,
  18: 1000,
  20: 850,
  25: 710,
  30: 600,
  35: 500,
  40: 425,
  45: 355,
  50: 300,
  60: 250,
  70: 212,
  80: 180,
  100: 150,
  120: 125,
  140: 106,
  170: 90,
  200: 75,
  230: 63,
  270: 53,
  325: 45,
  400: 38,
  450: 32,
  500: 25,
  635: 20,
};
const MICROMETRES = 1e6;

/**
 * Opening of an ASTM E11 sieve (recalled: ASTM E11).
 *
 * @param number mesh number
 * @returns [m], or the problem with the nearest number
 * @example sieveOpening(200) // 75e-6
 */
export function sieveOpening(number: number): number | Problem {
  const key = String(number);
  if (Object.hasOwn(OPENINGS, key)) return OPENINGS[key]! / MICROMETRES;
  const numbers = Object.keys(OPENINGS).map(Number);
  const nearest = numbers.reduce((a, b) => (Math.abs(b - number) < Math.abs(a - number) ? b : a));
  return problem(`has a mesh number that ASTM E11 does not know: ${key}; the nearest is ${nearest} mesh`);
}
