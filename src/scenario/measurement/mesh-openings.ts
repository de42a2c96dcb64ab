import { SIEVES } from '../../model/psd/sieves.ts';

/** Series a mesh number belongs to. ISO 3310-1 names its sieves by opening and has no mesh numbers. */
export type SieveSeries = 'astm-e11' | 'bs-410' | 'iso-3310-1';

/** Opening [m] by mesh number (recalled: BS 410). */
const BS_410: Readonly<Record<number, number>> = {
  5: 3350e-6,
  6: 2800e-6,
  7: 2360e-6,
  8: 2000e-6,
  10: 1700e-6,
  12: 1400e-6,
  14: 1180e-6,
  16: 1000e-6,
  18: 850e-6,
  22: 710e-6,
  25: 600e-6,
  30: 500e-6,
  36: 425e-6,
  44: 355e-6,
  52: 300e-6,
  60: 250e-6,
  72: 212e-6,
  85: 180e-6,
  100: 150e-6,
  120: 125e-6,
  150: 106e-6,
  170: 90e-6,
  200: 75e-6,
  240: 63e-6,
  300: 53e-6,
  350: 45e-6,
  400: 38e-6,
};

/**
 * Opening of a sieve named by its mesh number. The series matters: 60 mesh is 250 µm in both, 150 mesh exists in one.
 *
 * @returns [m], or the problem in words
 * @example meshOpening(200, 'astm-e11') // 75e-6
 */
export function meshOpening(number: number, series: SieveSeries): number | string {
  if (series === 'iso-3310-1')
    return 'ISO 3310-1 names sieves by their opening, not by mesh; state the series the mesh is of';
  const table = series === 'astm-e11' ? SIEVES : BS_410;
  const opening = table[number];
  if (opening !== undefined) return opening;
  const numbers = Object.keys(table).map(Number);
  const nearest = numbers.reduce((a, b) => (Math.abs(b - number) < Math.abs(a - number) ? b : a));
  return `${series} has no ${number} mesh; the nearest is ${nearest} mesh (${Number((table[nearest]! * 1e6).toPrecision(6))} µm)`;
}
