import { curve, curveAxes, run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const START = { wheel: 1500, rotor: 5730 };

const at = ({ scenario }: Lesson, wheel: number, rotor: number) => run(set(scenario, { wheel, rotor }));

export const topAndRest: LessonStep = {
  id: 'top-and-rest',
  title: 'The wheel sets the top, the rotor sets the rest',
  say: ['Move one, then the other. The dashed line is where you started.'],
  question: 'The product is right at the top but has too much dust. Which of the two do you touch?',
  sliders: [
    { id: 'wheel', name: 'wheel speed', unit: 'rpm', min: 800, max: 3000, step: 10, value: START.wheel },
    { id: 'rotor', name: 'rotor speed', unit: 'rpm', min: 4500, max: 7200, step: 10, value: START.rotor },
  ],
  show: (lesson, { wheel, rotor }) => {
    const now = at(lesson, wheel!, rotor!);
    const start = at(lesson, START.wheel, START.rotor)!;
    const moved = wheel !== START.wheel || rotor !== START.rotor;
    const lines = [
      ...(moved ? [{ name: 'at first', ...curve(start), standing: 'before' as const }] : []),
      ...(now ? [{ name: 'now', ...curve(now), standing: 'now' as const }] : []),
    ];
    const limits = [{ axis: 'y' as const, at: 95, words: '95 %' }];
    const caption = now
      ? 'Compare the top of the curve with its lower part as you move one speed, then the other.'
      : 'These settings choke: the wheel sends back more than the rotor can break.';
    const facts = [
      ['x10', 'x10'],
      ['x50', 'x50'],
      ['x95', 'x95'],
      ['span', 'span'],
      ['rotor power', 'rotorPower'],
    ] as const;
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(300), lines, limits, marks: [], caption } }],
      facts: facts.map(([name, quantity]) => [name, now ? said(now, quantity) : '–'] as const),
    };
  },
};

export const topAndRestKey: StepKey = {
  answer: (lesson) => {
    const moved = (wheel: number, rotor: number) => {
      const solved = at(lesson, wheel, rotor);
      return solved ? `x95 ${said(solved, 'x95')}, x10 ${said(solved, 'x10')}` : 'it chokes';
    };
    return `The rotor: slower strikes more gently; then trim the wheel to bring the top back. From ${moved(1500, 5730)}: the wheel at 1800 rpm gives ${moved(1800, 5730)}; the rotor at 5000 rpm gives ${moved(1500, 5000)}, at 6600 rpm ${moved(1500, 6600)}. A slower rotor breaks less each pass, so more goes round, and it chokes sooner.`;
  },
  notes:
    'Two minutes. Have them predict the direction before each move. Neither knob is pure: say what else moves.',
};
