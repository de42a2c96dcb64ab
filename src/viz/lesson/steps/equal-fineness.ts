import { quantityNamed } from '../../../scenario/outcome/quantities.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { matchWheel } from '../../../search/compare/match.ts';
import { curve, curveAxes, finer, hitsFor, onceThrough, run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

/** The fineness of the demo mill as it stands [m]. */
const target = ({ scenario }: Lesson) => quantityNamed('x95')!.of(run(scenario)!);

/** The mill with more or fewer hits between two looks of the wheel, wheel speed such that x95 stays. */
function looked(lesson: Lesson, hits: number): Solved | undefined {
  const at = set(lesson.scenario, { hits });
  const matched = matchWheel(at, at.settings.wheel, { quantity: 'x95', value: target(lesson) });
  return matched.reached ? matched.solved : undefined;
}

/** Once through at the same x95: hits alone bring it there. */
function once(lesson: Lesson): Solved | undefined {
  const hits = hitsFor(onceThrough(lesson.scenario), target(lesson), 0.95);
  return hits === undefined ? undefined : run(set(onceThrough(lesson.scenario), { hits }));
}

const HITS = 'hits between two looks, times those of the demo';

export const equalFineness: LessonStep = {
  id: 'equal-fineness',
  title: 'Equal fineness, fewer hits between two looks',
  say: [
    'Three mills make the same x95. Once through: all hits, no look. A screen or separator outside: many hits, then a look. The wheel inside: hardly a hit between two looks.',
    'It is the same balance each time; only the hits between two looks differ. Move them; the wheel speed follows so that x95 stays.',
  ],
  question: 'At the same x95, which of them makes least dust, and which takes least energy?',
  sliders: [{ id: 'hits', name: HITS, unit: '', min: 0.5, max: 8, step: 0.01, value: 3, ratio: true }],
  show: (lesson, { hits }) => {
    const inside = run(lesson.scenario)!;
    const now = looked(lesson, hits!);
    const through = once(lesson);
    const size = target(lesson) * 1e6;
    const many = `${formatNumber(hits!, 2)} times the hits`;
    const lines = [
      ...(through ? [{ name: 'once through', ...curve(through), standing: 1 }] : []),
      { name: 'wheel inside', ...curve(inside), standing: 'before' as const },
      ...(now ? [{ name: many, ...curve(now), standing: 'now' as const }] : []),
    ];
    const marks = [{ x: size, y: 95, words: `x95 ${formatNumber(size, 3)} µm` }];
    const caption = now
      ? 'All curves pass the same mark. The steeper, the narrower the product: fewer hits between two looks strike fewer grains that were fine already.'
      : 'With these hits between two looks no wheel speed gives this x95: it is finer than asked, or the loop chokes.';
    const row = (name: string, of: (solved: Solved) => string) =>
      [
        [`${name}: once through`, through ? of(through) : '–'],
        [`${name}: ${many}`, now ? of(now) : '–'],
        [`${name}: wheel inside`, of(inside)],
      ] as const;
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(300), lines, limits: [], marks, caption } }],
      facts: [
        ...row('below 10 µm', (solved) => finer(solved, 10e-6)),
        ...row('net energy', (solved) => said(solved, 'netEnergy')),
        ...row('passes', (solved) => said(solved, 'passes')),
      ],
    };
  },
};

export const equalFinenessKey: StepKey = {
  answer: (lesson) => {
    const named = [
      ['once through', once(lesson)],
      ['four times the hits between looks', looked(lesson, 4)],
      ['wheel inside', run(lesson.scenario)],
    ] as const;
    const each = (of: (solved: Solved) => string) =>
      named.map(([name, solved]) => `${name} ${solved ? of(solved) : 'not reached'}`).join(', ');
    return `The one that looks most often. Below 10 µm: ${each((solved) => finer(solved, 10e-6))}. Net grinding energy: ${each((solved) => said(solved, 'netEnergy'))}. It pays with passes: ${each((solved) => said(solved, 'passes'))}.`;
  },
  notes:
    'Two minutes. The balance does not know where the wheel stands; what differs is how often a grain is struck before it is asked again whether it may leave.',
};
