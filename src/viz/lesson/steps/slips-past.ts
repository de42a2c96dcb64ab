import { undersizeAt } from '../../../model/psd/curve.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { round, run, said, set, speedsOf, text } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const COARSE = 150e-6;

const at = ({ scenario }: Lesson, leakage: number, wheel: number) =>
  run(set(scenario, { leakage: leakage / 1000, wheel }));

const above = ({ curve }: Solved) => `${text(100 * (1 - undersizeAt(curve, COARSE)), 2)} %`;

const tail = ({ curve: { edges, undersize } }: Solved) => ({
  x: Array.from(edges, (edge) => edge * 1e6),
  y: Array.from(undersize, (share) => (share < 1 - 1e-9 ? 100 * (1 - share) : Number.NaN)),
});

/** A slower rotor, over the speed of the file. */
const SLOWER = 0.87;

/** Percent above 150 µm at a leakage [‰], a wheel speed and a rotor speed [rpm]; undefined where it chokes. */
export function slippedAt({ scenario }: Lesson, leakage: number, wheel: number, rotor?: number) {
  const solved = run(set(scenario, { leakage: leakage / 1000, wheel, ...(rotor ? { rotor } : {}) }));
  return solved && 100 * (1 - undersizeAt(solved.curve, COARSE));
}

/** Ends of the wheel slider, and its start [rpm]: the wheel is fast enough that 150 µm does not leave by itself. */
export function wheelRange({ scenario }: Lesson) {
  const { wheel, wheelTop } = speedsOf(scenario);
  return { min: round(wheel * 0.75), max: round(Math.min(wheelTop, wheel * 1.2)), value: round(wheel) };
}

export const slipsPast: LessonStep = {
  id: 'slips-past',
  title: 'And what slips past the wheel?',
  say: () => [
    'A small share of what meets the wheel slips through its gap whatever its size. Sending back narrows the product; does it help here too?',
  ],
  question: () => 'A faster wheel makes more passes. Same gap: fewer coarse particles in the product?',
  sliders: (lesson) => [
    { id: 'leakage', name: 'slips past at each visit', unit: '‰', min: 0, max: 5, step: 0.1, value: 1 },
    {
      id: 'wheel',
      name: 'wheel speed (faster is more passes)',
      unit: 'rpm',
      ...wheelRange(lesson),
      step: 10,
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
    const { min, max, value } = wheelRange(lesson);
    const rotor = round(speedsOf(lesson.scenario).rotor);
    const slow = round(rotor * SLOWER);
    const part = (share: number | undefined) => (share === undefined ? 'chokes' : `${text(share, 2)} %`);
    const [first, last] = [at(lesson, 1, min), at(lesson, 1, max)];
    const passes = (solved: Solved | undefined) => (solved ? said(solved, 'passes') : 'choked');
    return `No. At 1 ‰ and ${min} rpm (${passes(first)} passes) ${part(slippedAt(lesson, 1, min))} of the product lies above 150 µm; at ${max} rpm (${passes(last)} passes) ${part(slippedAt(lesson, 1, max))}. A faster wheel sends back more of the middle sizes; the coarse ones were sent back before, too. What counts is how often a coarse particle returns before it is broken, for every return is one more opportunity to slip: with the rotor at ${slow} rpm instead of ${rotor}, at ${value} rpm of the wheel, it is ${part(slippedAt(lesson, 1, value, slow))} instead of ${part(slippedAt(lesson, 1, value))}. Coarse particles that no wheel speed removes come through a gap: mend the seal.`;
  },
  notes:
    'One minute, or leave out. It separates a coarse tail that slipped past a seal from a cut that is set too coarse.',
};
