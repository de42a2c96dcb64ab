import { formatNumber } from '../../../scenario/units/display.ts';
import { curve, curveAxes, feedCurve, finer, hitsFor, onceThrough, run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const LIMIT = 75e-6;
const SHARE = 0.95;

const once = ({ scenario }: Lesson, hits: number, rotor: number) =>
  run(set(onceThrough(scenario), { hits, rotor }))!;

export const onceOnly: LessonStep = {
  id: 'once-through',
  title: 'Once through, without a wheel',
  say: [
    'Now the whole feed passes the rotor once and leaves. To get 95 % below 75 µm in one passage the rotor must strike often: more bars, or more speed.',
    'Raise the hits until the curve passes the mark. Watch the left end.',
  ],
  question: 'When 95 % lies below 75 µm, how much has become dust below 10 µm?',
  sliders: [
    {
      id: 'hits',
      name: 'hits, times those of the demo rotor',
      unit: '',
      min: 0.3,
      max: 300,
      step: 0.01,
      value: 1,
      ratio: true,
    },
    { id: 'rotor', name: 'rotor speed', unit: 'rpm', min: 3000, max: 7200, step: 10, value: 5730 },
  ],
  show: (lesson, { hits, rotor }) => {
    const now = once(lesson, hits!, rotor!);
    const lines = [
      { name: 'feed', ...feedCurve(now), standing: 'before' as const },
      { name: 'once through', ...curve(now), standing: 'now' as const },
    ];
    const marks = [{ x: 75, y: 95, words: '95 % below 75 µm' }];
    const caption = 'The curve has to pass left of the mark. Everything else moves left with it.';
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(1200), lines, limits: [], marks, caption } }],
      facts: [
        ['hits in the passage', said(now, 'hitsPerPass')],
        ['below 75 µm', finer(now, LIMIT)],
        ['below 10 µm', finer(now, 10e-6)],
        ['span', said(now, 'span')],
      ],
    };
  },
};

export const onceOnlyKey: StepKey = {
  answer: (lesson) => {
    const hits = hitsFor(onceThrough(lesson.scenario), LIMIT, SHARE);
    const loop = run(lesson.scenario);
    if (hits === undefined || !loop) return 'In one passage this feed cannot be brought there at all.';
    const now = once(lesson, hits, 5730);
    return `It takes ${formatNumber(hits, 2)} times the hits of the demo rotor. By then ${finer(now, 10e-6)} lies below 10 µm, span ${said(now, 'span')}. The demo mill, which sends the coarse back, has ${finer(loop, 10e-6)} below 10 µm and span ${said(loop, 'span')} at ${finer(loop, LIMIT)} below 75 µm. To catch the last coarse grains, once-through strikes the fine ones again and again.`;
  },
  notes:
    'Two minutes. The hits slider runs far beyond any real rotor; say so. The point is the shape: one passage cannot choose whom it strikes.',
};
