import { believed, believedBetween } from '../../parameters.ts';
import { SOURCES } from '../../sources.ts';
import type { FragmentLaw } from './fragment-law.ts';

/** B = Φ(x/y)^γ + (1 − Φ)(x/y)^β (eq. 12; `recalled`: Austin, Klimpel & Luckie 1984). */
export const twoPower: FragmentLaw = {
  name: 'two-power',
  summary: 'a fine and a coarse branch, each a power of the size ratio',
  label: 'recalled',
  source: SOURCES.austinKlimpelLuckie1984,
  parameters: [
    {
      name: 'fineShare',
      typical: 0.5,
      symbol: 'Φ',
      unit: '1',
      shownIn: '1',
      meaning: 'share of the fine branch',
      minimum: 0,
      maximum: 1,
      belief: believedBetween(0, 1, 0.8),
    },
    {
      name: 'fineExponent',
      typical: 0.8,
      symbol: 'γ',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of the fine branch',
      exclusiveMinimum: 0,
      maximum: 10,
      belief: believed(0.3, [0.05, 6]),
    },
    {
      name: 'coarseExponent',
      typical: 4,
      symbol: 'β',
      unit: '1',
      shownIn: '1',
      meaning: 'exponent of the coarse branch',
      exclusiveMinimum: 0,
      maximum: 20,
      belief: believed(0.3),
    },
  ],
  undersize: ({ fineShare, fineExponent, coarseExponent }, size, parent) => {
    if (size >= parent) return 1;
    const z = size / parent;
    return (
      (fineShare as number) * z ** (fineExponent as number) +
      (1 - (fineShare as number)) * z ** (coarseExponent as number)
    );
  },
  terms: ({ fineShare, fineExponent, coarseExponent }) => [
    power(fineShare as number, fineExponent as number),
    power(1 - (fineShare as number), coarseExponent as number),
  ],
  outside: ({ fineExponent, coarseExponent }) =>
    (coarseExponent as number) < (fineExponent as number)
      ? ['the coarse branch is flatter than the fine one']
      : [],
};

/** Sizes are taken in millimetres, so that steep powers stay within range; the scale cancels in each product. */
const SCALE = 1e-3;

function power(share: number, exponent: number) {
  return {
    ofFragment: (size: number) => share * (size / SCALE) ** exponent,
    ofParent: (size: number) => (size / SCALE) ** -exponent,
  };
}
