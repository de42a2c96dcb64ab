import {
  aimOf,
  aimWords,
  curve,
  curveAxes,
  feedCurve,
  finer,
  hitsFor,
  onceThrough,
  round,
  run,
  said,
  set,
  speedsOf,
  text,
} from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const once = ({ scenario }: Lesson, hits: number, rotor: number) =>
  run(set(onceThrough(scenario), { hits, rotor }))!;

const limitOf = ({ scenario }: Lesson) => aimOf(scenario).size;

export const onceOnly: LessonStep = {
  id: 'once-through',
  title: 'Once through, without a wheel',
  say: ({ scenario }) => [
    `Now the whole feed passes the rotor once and leaves. To get ${aimWords(scenario)} in one passage the rotor must strike often: more bars, or more speed.`,
    'Raise the hits until the curve passes the mark. Watch the left end.',
  ],
  question: ({ scenario }) => `With ${aimWords(scenario)}, how much has become dust below 10 µm?`,
  sliders: ({ scenario }) => {
    const { rotor, rotorTop } = speedsOf(scenario);
    return [
      {
        id: 'hits',
        name: 'hits, times those of this rotor',
        unit: '',
        min: 0.3,
        max: 300,
        step: 0.01,
        value: 1,
        ratio: true,
      },
      {
        id: 'rotor',
        name: 'rotor speed',
        unit: 'rpm',
        min: round(rotor / 2),
        max: round(rotorTop),
        step: 10,
        value: round(rotor),
      },
    ];
  },
  show: (lesson, { hits, rotor }) => {
    const now = once(lesson, hits!, rotor!);
    const { size, share } = aimOf(lesson.scenario);
    const lines = [
      { name: 'feed', ...feedCurve(now), standing: 'before' as const },
      { name: 'once through', ...curve(now), standing: 'now' as const },
    ];
    const marks = [{ x: size * 1e6, y: 100 * share, words: aimWords(lesson.scenario) }];
    const caption = 'The curve has to pass left of the mark. Everything else moves left with it.';
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(1200), lines, limits: [], marks, caption } }],
      facts: [
        ['hits in the passage', said(now, 'hitsPerPass')],
        [`below ${text(size * 1e6)} µm`, finer(now, size)],
        ['below 10 µm', finer(now, 10e-6)],
        ['span', said(now, 'span')],
      ],
    };
  },
};

/** Factor on the hits that brings the whole feed to the aim in one passage. */
const hitsOnce = (lesson: Lesson): number | undefined =>
  hitsFor(onceThrough(lesson.scenario), limitOf(lesson), aimOf(lesson.scenario).share);

export const onceOnlyKey: StepKey = {
  answer: (lesson) => {
    const hits = hitsOnce(lesson);
    const loop = run(lesson.scenario);
    if (hits === undefined || !loop) return 'In one passage this feed cannot be brought there at all.';
    const now = once(lesson, hits, round(speedsOf(lesson.scenario).rotor));
    const limit = limitOf(lesson);
    return `It takes ${text(hits, 2)} times the hits of this rotor. By then ${finer(now, 10e-6)} lies below 10 µm, span ${said(now, 'span')}. The mill with its wheel, which sends the coarse back, has ${finer(loop, 10e-6)} below 10 µm and span ${said(loop, 'span')} at ${finer(loop, limit)} below ${text(limit * 1e6)} µm. To catch the last coarse particles, once-through strikes the fine ones again and again.`;
  },
  notes:
    'Two minutes. The hits slider runs far beyond any real rotor; say so. Hits in the passage rise less than the slider: the energy heats the air, which then carries the particles past faster. The point is the shape: one passage cannot choose what it strikes.',
};
