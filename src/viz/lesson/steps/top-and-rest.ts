import { undersizeAt } from '../../../model/psd/curve.ts';
import { toCase } from '../../../scenario/operating-point.ts';
import { quantityNamed } from '../../../scenario/outcome/quantities.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { solvePoint } from '../../../scenario/outcome/solved.ts';
import { matchWheel } from '../../../search/compare/match.ts';
import { curve, curveAxes, round, run, said, set, speedsOf, text } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

const startOf = ({ scenario }: Lesson) => {
  const { wheel, rotor } = speedsOf(scenario);
  return { wheel: round(wheel), rotor: round(rotor) };
};

const at = ({ scenario }: Lesson, wheel: number, rotor: number) => run(set(scenario, { wheel, rotor }));

const x95 = quantityNamed('x95')!;

/** The mill at another rotor speed [rpm], the wheel trimmed so that x95 is that of the start. */
export function trimmed(lesson: Lesson, rotor: number): Solved | undefined {
  const start = startOf(lesson);
  const value = x95.of(at(lesson, start.wheel, start.rotor)!);
  const moved = set(lesson.scenario, { ...start, rotor });
  const matched = matchWheel(moved, moved.settings.wheel, { quantity: 'x95', value });
  return matched.reached ? matched.solved : undefined;
}

/** Ends of the rotor slider [rpm]. */
export function rotorRange({ scenario }: Lesson): [number, number] {
  const { rotor, rotorTop } = speedsOf(scenario);
  return [round(rotor * 0.785), round(rotorTop)];
}

/** The start with its feed at choke, which `run` leaves out. */
function startSolved(lesson: Lesson): Solved {
  return solvePoint(toCase(set(lesson.scenario, startOf(lesson)))) as Solved;
}

const dust = (solved: Solved) => 100 * undersizeAt(solved.curve, 10e-6);

export const topAndRest: LessonStep = {
  id: 'top-and-rest',
  title: 'The wheel sets the top; what does the rotor set?',
  say: () => [
    'Move one, then the other. Once you have moved, a dashed curve shows where you started.',
    'The last rows keep the top: at your rotor speed the wheel is trimmed until x95 is that of the start.',
  ],
  question: () => 'The product is right at the top but has too much dust. Does a slower rotor help?',
  sliders: (lesson) => {
    const { wheel, rotor } = startOf(lesson);
    const { wheelTop } = speedsOf(lesson.scenario);
    const [min, max] = rotorRange(lesson);
    const least = round(wheel * 0.5);
    const most = round(Math.min(wheelTop, wheel * 1.5));
    return [
      { id: 'wheel', name: 'wheel speed', unit: 'rpm', min: least, max: most, step: 10, value: wheel },
      { id: 'rotor', name: 'rotor speed', unit: 'rpm', min, max, step: 10, value: rotor },
    ];
  },
  show: (lesson, { wheel, rotor }) => {
    const first = startOf(lesson);
    const now = at(lesson, wheel!, rotor!);
    const moved = wheel !== first.wheel || rotor !== first.rotor;
    const start = at(lesson, first.wheel, first.rotor)!;
    const lines = [
      ...(moved ? [{ name: 'at first', ...curve(start), standing: 'before' as const }] : []),
      ...(now ? [{ name: 'now', ...curve(now), standing: 'now' as const }] : []),
    ];
    const limits = [{ axis: 'y' as const, at: 95, words: '95 %' }];
    const caption = now
      ? 'Compare the top of the curve with its lower part as you move one speed, then the other.'
      : 'These settings choke: the wheel sends back more than the rotor can break.';
    const facts = ['x10', 'x50', 'x95', 'span', 'rotorPower'] as const;
    const pair = trimmed(lesson, rotor!);
    const trim = (of: (solved: Solved) => string) => (pair ? of(pair) : 'not reached');
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(300), lines, limits, marks: [], caption } }],
      facts: [
        ...facts.map(
          (name) => [name === 'rotorPower' ? 'rotor power' : name, now ? said(now, name) : '–'] as const,
        ),
        ['trimmed to the first x95: wheel speed', trim((solved) => said(solved, 'wheelSpeed'))],
        ['trimmed: x10', trim((solved) => said(solved, 'x10'))],
        ['trimmed: below 10 µm', trim((solved) => `${text(dust(solved))} %`)],
        ['trimmed: passes', trim((solved) => said(solved, 'passes'))],
      ],
    };
  },
};

const pairWords = (solved: Solved) =>
  `${text(dust(solved))} % below 10 µm, x10 ${said(solved, 'x10')}, ${said(solved, 'passes')} passes`;

export const topAndRestKey: StepKey = {
  answer: (lesson) => {
    const { wheel, rotor } = startOf(lesson);
    const slow = round(rotor * 0.87);
    const [before, after] = [at(lesson, wheel, rotor)!, trimmed(lesson, slow)];
    const alone = at(lesson, wheel, slow);
    const first = `At ${rotor} rpm and the wheel at ${wheel} rpm: ${pairWords(before)}.`;
    const coarser = alone
      ? ` The rotor alone at ${slow} rpm gives x10 ${said(alone, 'x10')}, but x95 ${said(alone, 'x95')} in place of ${said(before, 'x95')}: most of that gain is only the coarser top.`
      : '';
    if (!after)
      return `Not here. ${first}${coarser} At ${slow} rpm no wheel speed brings x95 back: the mill chokes first.`;
    const change = dust(after) - dust(before);
    const little =
      Math.abs(change) < 0.1 * dust(before)
        ? `Hardly: at equal top the dust changes by only ${text(Math.abs(change), 2)} percentage points, because it hardly follows the rotor speed.`
        : `It changes the dust by ${text(Math.abs(change), 2)} percentage points, ${change < 0 ? 'downwards' : 'upwards'}.`;
    return `${little} ${first}${coarser} With the wheel trimmed to ${said(after, 'wheelSpeed')}, x95 is back: ${pairWords(after)}. A slower rotor breaks less each pass, so more circulates, and the mill chokes sooner: its feed margin goes from ${said(startSolved(lesson), 'feedMargin')} to ${said(after, 'feedMargin')}.`;
  },
  notes:
    'Two minutes. Have them predict the direction before each move. Compare at equal top only: a coarser product always has less dust. What does change the dust at equal top is the hits between two looks, the step before.',
};
