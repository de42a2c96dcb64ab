import { undersizeAt } from '../../../model/psd/curve.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const COARSE = 150e-6;

const at = ({ scenario }: Lesson, leakage: number, wheel: number) =>
  run(set(scenario, { leakage: leakage / 1000, wheel }));

const above = ({ curve }: Solved) => `${formatNumber(100 * (1 - undersizeAt(curve, COARSE)), 2)} %`;

const tail = ({ curve: { edges, undersize } }: Solved) => ({
  x: Array.from(edges, (edge) => edge * 1e6),
  y: Array.from(undersize, (share) => (share < 1 - 1e-9 ? 100 * (1 - share) : Number.NaN)),
});

export const slipsPast: LessonStep = {
  id: 'slips-past',
  title: 'And what slips past the wheel?',
  say: [
    'A small share of what meets the wheel slips through its gap whatever its size. Going round narrows the product; does it help here too?',
  ],
  question: 'More passes, same gap: more coarse grains in the product, or fewer?',
  sliders: [
    { id: 'leakage', name: 'slips past at each visit', unit: '‰', min: 0, max: 5, step: 0.1, value: 1 },
    {
      id: 'wheel',
      name: 'wheel speed (faster is more passes)',
      unit: 'rpm',
      min: 1000,
      max: 2400,
      step: 10,
      value: 1500,
    },
  ],
  show: (lesson, { leakage, wheel }) => {
    const now = at(lesson, leakage!, wheel!);
    const tight = at(lesson, 0, wheel!);
    return {
      figures: [
        {
          figure: 'lines',
          input: {
            x: { title: 'size, µm', scale: 'log', range: [30, 1000] },
            y: { title: 'coarser, %', scale: 'log', range: [0.001, 100] },
            lines: [
              ...(tight ? [{ name: 'tight', ...tail(tight), standing: 'before' as const }] : []),
              ...(now ? [{ name: 'with the gap', ...tail(now), standing: 'now' as const }] : []),
            ],
            limits: [{ axis: 'x', at: 150, words: '150 µm' }],
            marks: [],
            caption: now
              ? 'The coarse tail, enlarged: its shelf is what slipped past.'
              : 'These settings choke.',
          },
        },
      ],
      facts: now
        ? [
            ['passes', said(now, 'passes')],
            ['coarser than 150 µm', above(now)],
          ]
        : [['at these settings', 'chokes']],
    };
  },
};

export const slipsPastKey: StepKey = {
  answer: (lesson) => {
    const [slow, fast] = [at(lesson, 1, 1200), at(lesson, 1, 1800)];
    const numbers =
      slow && fast
        ? ` At 1 ‰, the wheel at 1200 rpm makes ${said(slow, 'passes')} passes and has ${above(slow)} above 150 µm in the product; at 1800 rpm ${said(fast, 'passes')} passes and ${above(fast)}.`
        : '';
    return `Going round does not help: every return is one more chance to slip.${numbers} Coarse grains that no wheel speed removes come through a gap: mend the seal.`;
  },
  notes:
    'One minute, or leave out. It tells a coarse tail that slipped past a seal from a cut that is set too coarse.',
};
