import type { FragmentLaw } from './law.ts';

const u = (q: number, s: number, x: number) => 0.5 * x ** q * (1 + Math.tanh((x - s) / s));
export const FRAGMENT_LAWS: Record<string, FragmentLaw> = {
  impact: {
    name: 'impact',
    summary: '',
    label: 'recalled',
    source: '',
    parameters: [
      {
        name: 'exponent',
        symbol: 'q',
        unit: '1',
        shownIn: '1',
        meaning: 'fines exponent',
        exclusiveMinimum: 0,
      },
      {
        name: 'finesScale',
        symbol: 'x′',
        unit: 'm',
        shownIn: 'um',
        meaning: 'fines scale',
        exclusiveMinimum: 0,
      },
    ],
    undersize: (p, x, y) =>
      u(p.exponent as number, p.finesScale as number, x) / u(p.exponent as number, p.finesScale as number, y),
    terms: (p) => [
      {
        ofFragment: (x) => u(p.exponent as number, p.finesScale as number, x),
        ofParent: (y) => 1 / u(p.exponent as number, p.finesScale as number, y),
      },
    ],
    outside: () => [],
  },
};
