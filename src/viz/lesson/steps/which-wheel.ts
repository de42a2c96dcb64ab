import { pointView } from '../../../answers/point-view.ts';
import { label } from '../../../answers/text.ts';
import { quantityNamed } from '../../../scenario/outcome/quantities.ts';
import { formatNumber } from '../../../scenario/units/display.ts';
import { atSpeed } from '../../../search/compare/match.ts';
import { round, run, said, set, speedsOf } from '../mill.ts';
import type { Lesson, LessonStep, Shown, StepKey } from '../step.ts';

/** Little feed, so that the load does not move the cut [kg/h]. */
const FEED = 50;

const at = ({ scenario }: Lesson, wheel: string, speed: number) =>
  atSpeed(set(scenario, { feed: FEED }), wheel, speed / 60);

/** Speed at which the answer compares the wheels [rpm]. */
function middle(lesson: Lesson): number {
  return round(Math.min(speedsOf(lesson.scenario).wheel * 0.75, 0.9 * speedRange(lesson).max));
}

/** Ends of the slider [rpm]; no wheel is turned faster than it may. */
export function speedRange({ scenario }: Lesson) {
  const top = Math.min(...Object.values(scenario.machine.wheels).map(({ maxSpeed }) => 60 * maxSpeed));
  const { wheel } = speedsOf(scenario);
  const max = round(Math.min(top, wheel * 1.25));
  return { min: round(Math.min(wheel, max) * 0.4), max };
}

/** Cut of each wheel at a speed [rpm] that does not choke it, finest first [m]. */
export function cutsAt(lesson: Lesson, speed: number) {
  return wheels(lesson)
    .flatMap((name) => {
      const solved = run(at(lesson, name, speed));
      return solved ? [{ name, solved, cut: quantityNamed('cutSize')!.of(solved) }] : [];
    })
    .sort((a, b) => a.cut - b.cut);
}

const wheels = ({ scenario }: Lesson) => Object.keys(scenario.machine.wheels);

export const whichWheel: LessonStep = {
  id: 'which-wheel',
  title: 'Which wheel cuts finer?',
  say: (lesson) => [
    `${wheels(lesson).length === 1 ? 'One wheel' : `${wheels(lesson).length} wheels`} at one shaft speed and one air flow, little feed. Look at the drawings and guess before you look at the curves.`,
    'Three things decide: how fast the rim turns, how fast the air is drawn in between the vanes, and how much spin a lean of the vanes gives that air.',
  ],
  question: () => 'A taller wheel has a wider way in for the air. Does it let coarser particles through?',
  sliders: (lesson) => [
    { id: 'speed', name: 'wheel speed', unit: 'rpm', ...speedRange(lesson), step: 10, value: middle(lesson) },
  ],
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
    const cuts = cutsAt(lesson, middle(lesson));
    const { machine } = lesson.scenario;
    if (cuts.length === 0) return `At ${middle(lesson)} rpm every wheel chokes.`;
    const rows = cuts.map(
      ({ name, solved }) =>
        `${label(name)} ${said(solved, 'cutSize')} (air drawn in at ${said(solved, 'radialVelocity')})`,
    );
    const { geometry } = machine.wheels[cuts[0]!.name]!;
    const gap = formatNumber(1e3 * ((Math.PI * geometry.diameter) / geometry.vanes - geometry.thickness), 2);
    const tallest = cuts.every(({ name }) => machine.wheels[name]!.geometry.height <= geometry.height);
    const opening =
      cuts.length < 2
        ? 'A wheel does not sieve.'
        : tallest
          ? 'No, it cuts finest.'
          : 'Not by its height alone.';
    return `${opening} At ${middle(lesson)} rpm the cuts are ${rows.join(', ')}. The gap between two vanes is about ${gap} mm, hundreds of times a particle: a wheel does not sieve. The wider the way in, the slower the air, and slow air can hold only fine particles against the spin. Lean does not slow the air; in this model it turns part of the inflow into spin, which makes the cut finer. How much is assumed until a trial shows it.`;
  },
  notes:
    'Two minutes. The wrong guess is the lesson: a wheel is no sieve. Drawings are to one scale; lean turns the air before it enters.',
};
