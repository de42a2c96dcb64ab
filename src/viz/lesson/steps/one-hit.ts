import { undersizeAt } from '../../../model/psd/curve.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { curve, curveAxes, finer, onceThrough, oneSize, run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, StepKey, Values } from '../step.ts';

const START = { rotor: 5730, size: 500 };

const struck = ({ scenario }: Lesson, { rotor, size }: Values) =>
  run(set(oneSize(onceThrough(scenario), size! / 1e6), { rotor: rotor!, feed: 1 }))!;

/** Share that came off smaller than it went in. */
const broken = (lesson: Lesson, values: Values) =>
  `${formatNumber(100 * undersizeAt(struck(lesson, values).curve, 0.9e-6 * values.size!), 2)} %`;

export const oneHit: LessonStep = {
  id: 'one-hit',
  title: 'One visit to the rotor',
  say: [
    'Grains of one size meet the rotor once. Some are broken, some only bounce; what breaks, breaks into many sizes.',
    'Move the rotor speed, then the size.',
  ],
  question: 'Twice the speed: does it break twice as much? And a grain of half the size?',
  sliders: [
    { id: 'rotor', name: 'rotor speed', unit: 'rpm', min: 2000, max: 7200, step: 10, value: START.rotor },
    { id: 'size', name: 'size of the grains', unit: 'µm', min: 100, max: 1000, step: 10, value: START.size },
  ],
  show: (lesson, values) => {
    const now = struck(lesson, values);
    const moved = values.rotor !== START.rotor || values.size !== START.size;
    const lines = [
      ...(moved ? [{ name: 'at first', ...curve(struck(lesson, START)), standing: 'before' as const }] : []),
      { name: 'after one visit', ...curve(now), standing: 'now' as const },
    ];
    const caption =
      'What lies left of the upright line was broken; the tail to the left is the dust of one visit.';
    const limits = [{ axis: 'x' as const, at: values.size!, words: 'fed' }];
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(1200), lines, limits, marks: [], caption } }],
      facts: [
        ['tip speed', said(now, 'tipSpeed')],
        ['hits in one visit', said(now, 'hitsPerPass')],
        ['broken', broken(lesson, values)],
        ['below 10 µm', finer(now, 10e-6, 2)],
      ],
    };
  },
};

export const oneHitKey: StepKey = {
  answer: (lesson) => {
    const half = { rotor: 2865, size: 500 };
    const dust = (values: Values) => finer(struck(lesson, values), 10e-6, 2);
    return `Not twice. At 2865 rpm ${broken(lesson, half)} of the 500 µm grains break, at 5730 rpm ${broken(lesson, START)}: the energy of a hit goes with the square of speed, and below a threshold nothing breaks. At 5730 rpm ${broken(lesson, { rotor: 5730, size: 250 })} of the grains of 250 µm break: the smaller, the tougher. Dust below 10 µm goes from ${dust(half)} to ${dust(START)}.`;
  },
  notes:
    'Two minutes. Let them guess first. Common error: that one hit makes one size. Read the hits in one visit aloud: a grain is not always struck, and often only once.',
};
