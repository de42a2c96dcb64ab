/** Series a mesh number belongs to. ISO 3310-1 names its sieves by opening and has no mesh numbers. */
export type SieveSeries = 'astm-e11' | 'bs-410' | 'iso-3310-1';

/** Opening [µm] by mesh number (recalled: ASTM E11; openings as ISO 3310-1). */
const ASTM_E11: Readonly<Record<number, number>> = {
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

/** Opening [µm] by mesh number (recalled: BS 410). */
const BS_410: Readonly<Record<number, number>> = {
  5: 3350,
  6: 2800,
  7: 2360,
  8: 2000,
  10: 1700,
  12: 1400,
  14: 1180,
  16: 1000,
  18: 850,
  22: 710,
  25: 600,
  30: 500,
  36: 425,
  44: 355,
  52: 300,
  60: 250,
  72: 212,
  85: 180,
  100: 150,
  120: 125,
  150: 106,
  170: 90,
  200: 75,
  240: 63,
  300: 53,
  350: 45,
  400: 38,
};

const MICROMETRES = 1e6;

/**
 * Opening of a sieve named by its mesh number. The series matters: 60 mesh is 250 µm in both, 150 mesh exists in one.
 *
 * @returns [m], or the problem in words
 * @example meshOpening(200, 'astm-e11') // 75e-6
 */
export function meshOpening(number: number, series: SieveSeries): number | string {
  if (series === 'iso-3310-1')
    return 'ISO 3310-1 names sieves by their opening, not by mesh; state the series the mesh is of';
  const table = series === 'astm-e11' ? ASTM_E11 : BS_410;
  const opening = table[number];
  if (opening !== undefined) return opening / MICROMETRES;
  const numbers = Object.keys(table).map(Number);
  const nearest = numbers.reduce((a, b) => (Math.abs(b - number) < Math.abs(a - number) ? b : a));
  return `${series} has no ${number} mesh; the nearest is ${nearest} mesh (${table[nearest]} µm)`;
}
