import { pointView } from '../../../answers/point-view.ts';
import { label } from '../../../answers/text.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { atSpeed } from '../../../search/compare/match.ts';
import { run, said, set } from '../mill.ts';
import type { Lesson, LessonStep, Shown, StepKey } from '../step.ts';

const FEED = 50;

const at = ({ scenario }: Lesson, wheel: string, speed: number) =>
  atSpeed(set(scenario, { feed: FEED }), wheel, speed / 60);
const wheels = ({ scenario }: Lesson) => Object.keys(scenario.machine.wheels);

export const whichWheel: LessonStep = {
  id: 'which-wheel',
  title: 'Which wheel cuts finer?',
  say: [
    'Three wheels of one diameter at one speed and one air flow. Look at the drawings and guess before you look at the curves.',
    'Two things decide: how fast the rim turns, and how fast the air is drawn in between the vanes.',
  ],
  question: 'The tall wheel has the widest way in. Does it let coarser grains through?',
  sliders: [{ id: 'speed', name: 'wheel speed', unit: 'rpm', min: 800, max: 2500, step: 10, value: 1500 }],
  show: (lesson, { speed }) => {
    const lines = wheels(lesson).flatMap((name) => {
      const grade = pointView(at(lesson, name, speed!)).curves?.grade[0];
      return grade ? [{ ...grade, name: label(name) }] : [];
    });
    return {
      figures: [{ figure: 'grade-efficiency', input: { lines } }],
      facts: wheels(lesson).flatMap((name): Shown['facts'][number][] => {
        const solved = run(at(lesson, name, speed!));
        if (!solved) return [[label(name), 'chokes']];
        return [
          [`${label(name)}: cut`, said(solved, 'cutSize')],
          [`${label(name)}: air drawn in`, said(solved, 'radialVelocity')],
        ];
      }),
    };
  },
};

export const whichWheelKey: StepKey = {
  answer: (lesson) => {
    const rows = wheels(lesson).map((name) => {
      const solved = run(at(lesson, name, 1500));
      return solved
        ? `${label(name)} ${said(solved, 'cutSize')} (air drawn in at ${said(solved, 'radialVelocity')})`
        : `${label(name)} chokes`;
    });
    const { diameter, vanes, thickness } = lesson.scenario.machine.wheels[wheels(lesson)[0]!]!.geometry;
    const gap = formatNumber(1e3 * ((Math.PI * diameter) / vanes - thickness), 2);
    return `No, it cuts finest. At 1500 rpm the cuts are ${rows.join(', ')}. The gap between two vanes is about ${gap} mm, hundreds of times a grain: a wheel does not sieve. The wider the way in, the slower the air, and slow air can hold only fine grains against the spin. Leaning vanes draw the air in no slower than radial ones, but in this model their lean turns part of the inflow into spin; how much is assumed until a trial tells.`;
  },
  notes:
    'Two minutes. The wrong guess is the lesson: a wheel is no sieve. Drawings are to one scale; lean turns the air before it enters.',
};
