import { undersizeAt } from '../../../model/psd/curve.ts';
import { quantityNamed } from '../../../scenario/outcome/quantities.ts';
import type { Solved } from '../../../scenario/outcome/quantity.ts';
import { toShown } from '../../../scenario/units/display.ts';
import { matchWheel } from '../../../search/compare/match.ts';
import { curve, curveAxes, hitsFor, onceThrough, run, said, set, text } from '../mill.ts';
import type { Lesson, LessonStep, StepKey } from '../step.ts';

/** Ends of the slider: hits between two looks, times those of the mill. */
const FEWEST_HITS = 0.5;
const MOST_HITS = 8;
/** Values of the slider looked at for the least energy. */
const LOOKED_AT = 40;

const x95 = quantityNamed('x95')!;
const netEnergy = quantityNamed('netEnergy')!;

/** The fineness of the mill as it stands [m]. */
const target = ({ scenario }: Lesson) => x95.of(run(scenario)!);

/** The mill with more or fewer hits between two looks of the wheel, wheel speed such that x95 stays. */
export function looked(lesson: Lesson, hits: number): Solved | undefined {
  const at = set(lesson.scenario, { hits });
  const matched = matchWheel(at, at.settings.wheel, { quantity: 'x95', value: target(lesson) });
  return matched.reached ? matched.solved : undefined;
}

/** Once through at the same x95: hits alone bring it there. */
export function once(lesson: Lesson): Solved | undefined {
  const hits = hitsFor(onceThrough(lesson.scenario), target(lesson), 0.95);
  return hits === undefined ? undefined : run(set(onceThrough(lesson.scenario), { hits }));
}

/** The hits between two looks at which the energy is least over the slider, and that energy [kWh/t]. */
export function leastEnergy(lesson: Lesson): { readonly hits: number; readonly energy: number } {
  let best = { hits: Number.NaN, energy: Number.POSITIVE_INFINITY };
  for (let k = 0; k <= LOOKED_AT; k++) {
    const hits = FEWEST_HITS * (MOST_HITS / FEWEST_HITS) ** (k / LOOKED_AT);
    const solved = looked(lesson, hits);
    if (!solved) continue;
    const energy = toShown(netEnergy.of(solved), netEnergy.shownIn);
    if (energy < best.energy) best = { hits, energy };
  }
  return best;
}

/** Share below 10 µm, net energy, passes, as text without units. */
export function three(solved: Solved | undefined): [dust: string, energy: string, passes: string] {
  if (!solved) return ['not reached', '–', '–'];
  return [
    text(100 * undersizeAt(solved.curve, 10e-6)),
    text(toShown(netEnergy.of(solved), netEnergy.shownIn)),
    text(quantityNamed('passes')!.of(solved)),
  ];
}

const HEADS = ['mill', 'below 10 µm, %', 'net energy, kWh/t', 'passes'] as const;

export const equalFineness: LessonStep = {
  id: 'equal-fineness',
  title: 'Equal fineness, fewer hits between two looks',
  say: () => [
    'Three mills make the same x95. Once through: all hits, no look. A screen or separator outside: many hits, then a look. The wheel inside: hardly a hit between two looks.',
    'It is the same balance each time; only the hits between two looks differ. Move them; the wheel speed follows so that x95 stays.',
  ],
  question: () => 'At the same x95, which of them makes least dust, and which takes least energy?',
  sliders: () => [
    {
      id: 'hits',
      name: 'hits between two looks, times those of this mill',
      unit: '',
      min: FEWEST_HITS,
      max: MOST_HITS,
      step: 0.01,
      value: 3,
      ratio: true,
    },
  ],
  show: (lesson, { hits }) => {
    const inside = run(lesson.scenario)!;
    const now = looked(lesson, hits!);
    const through = once(lesson);
    const size = target(lesson) * 1e6;
    const many = `${text(hits!, 2)} times the hits`;
    const lines = [
      ...(through ? [{ name: 'once through', ...curve(through), standing: 1 }] : []),
      { name: 'wheel inside', ...curve(inside), standing: 'before' as const },
      ...(now ? [{ name: many, ...curve(now), standing: 'now' as const }] : []),
    ];
    const marks = [{ x: size, y: 95, words: `x95 ${text(size)} µm` }];
    const caption = now
      ? 'All curves pass the same mark. The steeper, the narrower the product: fewer hits between two looks strike fewer particles that were fine already.'
      : 'With these hits between two looks no wheel speed gives this x95: it stays finer, or the mill chokes.';
    return {
      figures: [{ figure: 'lines', input: { ...curveAxes(300), lines, limits: [], marks, caption } }],
      facts: [['wheel speed, so that x95 stays', now ? said(now, 'wheelSpeed') : '–']],
      table: {
        heads: HEADS,
        rows: [
          ['once through', ...three(through)],
          [many, ...three(now)],
          ['wheel inside', ...three(inside)],
        ],
      },
    };
  },
};

export const equalFinenessKey: StepKey = {
  answer: (lesson) => {
    const row = (name: string, solved: Solved | undefined) => {
      const [dust, energy, passes] = three(solved);
      return solved ? `${name} ${dust} %, ${energy} kWh/t, ${passes} passes` : `${name} does not reach it`;
    };
    const best = leastEnergy(lesson);
    const fewest = looked(lesson, FEWEST_HITS);
    const inside = best.hits > FEWEST_HITS * 1.01 && best.hits < MOST_HITS / 1.01;
    const few = fewest
      ? ` With ${FEWEST_HITS} times the hits the dust is ${three(fewest)[0]} %, but the energy ${three(fewest)[1]} kWh/t.`
      : '';
    const minimum = inside
      ? `Energy has its minimum between: ${text(best.energy)} kWh/t at about ${text(best.hits, 2)} times the hits of this mill.`
      : `Over this slider energy is least at its end, ${text(best.hits, 2)} times the hits: ${text(best.energy)} kWh/t.`;
    return `Least dust and least energy are not the same mill. Dust below 10 µm is least with the fewest hits between two looks. ${minimum} Fewer hits mean more passes, and each pass accelerates all that circulates once more; more hits strike what was fine already.${few} ${row('Once through:', once(lesson))}; ${row('four times the hits:', looked(lesson, 4))}; ${row('wheel inside:', run(lesson.scenario))}.`;
  },
  notes:
    'Two minutes. The balance does not know where the wheel stands; what differs is how often a particle is struck before the wheel looks at it again. Move the slider left of one as well: dust falls a little, energy rises much.',
};
