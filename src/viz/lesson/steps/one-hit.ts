import { undersizeAt } from '../../../model/psd/curve.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { curveAxes, finer, onceThrough, oneSize, round, run, said, set, speedsOf, text } from '../mill.ts';
import type { Lesson, LessonStep, StepKey, Values } from '../step.ts';

/** Least share of the feed that a class of the single size holds. */
const HELD = 0.01;

const startOf = ({ scenario }: Lesson) => ({ rotor: round(speedsOf(scenario).rotor), size: 500 });

const struck = ({ scenario }: Lesson, { rotor, size }: Values) =>
  run(set(oneSize(onceThrough(scenario), size! / 1e6), { rotor: rotor!, feed: 1 }))!;

/** Lower edge of the classes in which the single size lies [m]: what is finer was broken. */
function fedFrom({ state }: Solved): number {
  const { feed } = state.components[0]!;
  const total = feed.reduce((sum, each) => sum + each, 0);
  return state.grid.edges[feed.findIndex((each) => each > HELD * total)]!;
}

/** Percent of the feed that broke: Σ K_j f_j. */
function brokenShare({ state }: Solved): number {
  const { feed, breakage } = state.components[0]!;
  const total = feed.reduce((sum, each) => sum + each, 0);
  return (100 * feed.reduce((sum, each, i) => sum + each * breakage[i]!, 0)) / total;
}

/** Percent of a single size that one visit breaks. */
export const brokenOf = (lesson: Lesson, values: Values): number => brokenShare(struck(lesson, values));

/** Percent below 10 µm after one visit. */
export const dustOf = (lesson: Lesson, values: Values): number =>
  100 * undersizeAt(struck(lesson, values).curve, 10e-6);

/** The curve of what one visit makes of one size: a step at that size. */
function stepped(solved: Solved, size: number) {
  const { edges, undersize } = solved.curve;
  const below = edges.findIndex((edge) => edge >= fedFrom(solved)) + 1;
  const x = Array.from(edges.subarray(0, below), (edge) => Math.min(edge * 1e6, size));
  const y = Array.from(undersize.subarray(0, below), (share) => 100 * share);
  return { x: [...x, size, size, 1200], y: [...y, brokenShare(solved), 100, 100] };
}

export const oneHit: LessonStep = {
  id: 'one-hit',
  title: 'One visit to the rotor',
  say: () => [
    'Particles of one size meet the rotor once. Some break, some only bounce; what breaks, breaks into many sizes.',
    'Move the rotor speed, then the size.',
  ],
  question: () => 'Twice the speed: does it break twice as much? And a particle of half the size?',
  sliders: (lesson) => {
    const { rotor, rotorTop } = speedsOf(lesson.scenario);
    const start = startOf(lesson);
    return [
      {
        id: 'rotor',
        name: 'rotor speed',
        unit: 'rpm',
        min: round(rotor * 0.35),
        max: round(rotorTop),
        step: 10,
        value: start.rotor,
      },
      {
        id: 'size',
        name: 'size of the particles',
        unit: 'µm',
        min: 100,
        max: 1000,
        step: 10,
        value: start.size,
      },
    ];
  },
  show: (lesson, values) => {
    const start = startOf(lesson);
    const now = struck(lesson, values);
    const moved = values.rotor !== start.rotor || values.size !== start.size;
    const lines = [
      ...(moved
        ? [{ name: 'at first', ...stepped(struck(lesson, start), start.size), standing: 'before' as const }]
        : []),
      { name: 'after one visit', ...stepped(now, values.size!), standing: 'now' as const },
    ];
    const broken = text(brokenShare(now), 2);
    const caption = `Where the curve meets the upright line is the share that broke, ${broken} %; the tail to the left is the dust of one visit.`;
    const limits = [{ axis: 'x' as const, at: values.size!, words: 'fed' }];
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(1200), lines, limits, marks: [], caption } }],
      facts: [
        ['tip speed', said(now, 'tipSpeed')],
        ['hits in one visit', said(now, 'hitsPerPass')],
        ['broken', `${broken} %`],
        ['below 10 µm', finer(now, 10e-6, 2)],
      ],
    };
  },
};

export const oneHitKey: StepKey = {
  answer: (lesson) => {
    const { rotor, size } = startOf(lesson);
    const half = { rotor: rotor / 2, size };
    const full = { rotor, size };
    const part = (values: Values) => `${text(brokenOf(lesson, values), 2)} %`;
    const dust = (values: Values) => `${text(dustOf(lesson, values), 2)} %`;
    const times = brokenOf(lesson, full) / brokenOf(lesson, half);
    return `${times > 2 ? 'More than twice' : 'Not twice'}: ${text(times, 2)} times. At ${text(half.rotor, 4)} rpm ${part(half)} of the ${size} µm particles break, at ${text(rotor, 4)} rpm ${part(full)}: the energy of a hit goes with the square of the speed, a threshold takes its part, and a faster rotor also hits more often. At ${text(rotor, 4)} rpm ${part({ rotor, size: size / 2 })} of the particles of ${size / 2} µm break: the smaller, the tougher. Dust below 10 µm goes from ${dust(half)} to ${dust(full)}.`;
  },
  notes:
    'Two minutes. Let them guess first. Common error: that one hit makes one size. Read the hits in one visit aloud: they are below one, so some particles are not struck at all. The selection function S says which share breaks, the breakage function B into what.',
};
