import { believed, type LawChoice } from '../../parameters.ts';
import { SOURCES, theModel } from '../../sources.ts';
import type { FragmentLaw } from './fragment-law.ts';

/**
 * Impact fragments, B = u(x)/u(y), u(x) = ½ x^q [1 + tanh((x − x′)/x′)] (eq. 11; form `recalled`: Vogel & Peukert 2005,
 * divided by its value at y so that B(y,y) = 1).
 */
export const impact: FragmentLaw = {
  name: 'impact',
  summary: 'fines exponent and fines scale',
  label: 'recalled',
  source: SOURCES.vogelPeukert2005,
  parameters: [
    {
      name: 'exponent',
      typical: 0.9,
      symbol: 'q',
      unit: '1',
      shownIn: '1',
      meaning: 'fines exponent: smaller gives more fines',
      usual: { low: 0.2, high: 3 },
      exclusiveMinimum: 0,
      maximum: 10,
      belief: believed(0.3, [0.05, 6]),
    },
    {
      name: 'finesScale',
      symbol: 'x′',
      unit: 'm',
      shownIn: 'um',
      meaning: 'size below which fragments thin out',
      usual: { low: 0.02e-6, high: 50e-6 },
      exclusiveMinimum: 0,
      maximum: 1e-3,
      preset: { value: 1e-6, label: 'assumed', source: `hardly shows in a product: ${theModel('11')}` },
      belief: believed(0.4),
    },
  ],
  undersize: (p, size, parent) => (size >= parent ? 1 : shape(p, size) / shape(p, parent)),
  terms: (p) => [{ ofFragment: (size) => shape(p, size), ofParent: (size) => 1 / shape(p, size) }],
  outside: () => [],
};

/** u(x) over x′^q, so that no power of a bare length arises; the factor cancels in B. */
function shape({ exponent, finesScale }: LawChoice, size: number): number {
  const z = size / (finesScale as number);
  return 0.5 * z ** (exponent as number) * (1 + Math.tanh(z - 1));
}
