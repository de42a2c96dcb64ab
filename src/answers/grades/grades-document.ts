import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { formatNumber, formatQuantity } from '../../scenario/units/display.ts';
import type { AnswerDocument, Section } from '../document.ts';
import { findKeys } from '../find/find-keys.ts';
import { runAgain, settingsInWords, typedSetting } from '../find/find-words.ts';
import { listed } from '../join-words.ts';
import { openingAnywhere } from '../verdict-words.ts';
import { forecastSentences, forecastTable, notRunYet } from './grade-forecast.ts';
import { foundPoint, probabilityOf } from './grade-point.ts';
import type { GradesAnswer } from './grades-answer.ts';
import { gradeFigure, gradeTable, limitTable, sharedTable, watchWords, wheelTable } from './grades-tables.ts';
import { orderKeys, orderSection } from './order-words.ts';
import { feedOf } from './shared-settings.ts';
import { LOT, type WheelSet } from './wheels-for-grades.ts';

/** The answer of `find` for a file with grades: one document, grade by grade, then what they can share. */
export function gradesDocument(answer: GradesAnswer): AnswerDocument {
  const { scenario, grades, shared } = answer;
  const points = grades.map(foundPoint);
  const sections: Section[] = [
    { id: 'grades', heading: 'Grade by grade', figures: gradeFigure(points), tables: [gradeTable(points)] },
    {
      id: 'limits',
      heading: 'What limits each grade',
      sentences: watchWords(points),
      tables: [limitTable(answer)],
    },
    {
      id: 'forecast',
      heading: 'Predicted for each grade',
      sentences: forecastSentences(points),
      tables: [forecastTable(points)],
    },
    ...(shared.length > 0
      ? [
          {
            id: 'shared',
            heading: 'Settings that serve two grades',
            sentences: [SHARED],
            tables: [sharedTable(answer)],
          },
        ]
      : []),
    {
      id: 'wheels',
      heading: 'One wheel, or more',
      sentences: wheelSentences(answer),
      tables: [wheelTable(answer)],
    },
    ...orderSection(answer.order, answer.budget),
    { id: 'again', heading: 'To see each', listing: grades.map(againLine).join('\n') },
  ];
  const notes = [
    ...new Set(
      grades.flatMap(({ answer: { space, named } }) => [
        ...space.taken,
        ...named.outcome.warnings.map(({ message }) => message),
      ]),
    ),
  ];
  return {
    command: 'find',
    found: grades.every(({ found }) => found),
    title: scenario.title,
    job: scenario.job,
    opening: openingAnywhere(scenario),
    answer: answerSentences(answer),
    sections,
    notes,
    cautions: [SAFETY_CAUTION],
    keys: gradesKeys(answer),
  };
}

const SHARED =
  'If the coefficients are as they stand: one product that meets both specs, so that no setting changes between the two grades.';

function answerSentences({ scenario, grades }: GradesAnswer): string[] {
  const missed = grades.filter(({ answer }) => !answer.nominal.meets).map(({ name }) => name);
  const met = grades.length - missed.length;
  const first = `settings within the ranges meet ${met === grades.length ? `all ${met} grades` : `${met} of ${grades.length} grades`} if the coefficients are as they stand${missed.length > 0 ? `; none meet ${listed(missed)}` : ''}.`;
  return [
    first,
    ...grades.map(
      ({ name, answer }) =>
        `${name}: run first ${settingsInWords(scenario, answer.named)}: the probability of meeting its whole spec is ${formatNumber(100 * probabilityOf(answer), 2)} %.`,
    ),
    ...grades.flatMap(({ name, answer }) => notRunYet(name, answer.named.scenario)),
  ];
}

/** Whether one wheel serves all, what that costs, and what one more is worth. */
export function wheelSentences({ wheels, grades }: GradesAnswer): string[] {
  const [one, two] = wheels.growing;
  if (!one || one.served === 0) return ['No wheel meets any grade within the ranges.'];
  const best = grades.map(({ answer }) => feedOf(answer.nominal.best));
  const all = one.served === grades.length;
  const costs = one.points.flatMap((point, k) => {
    const lost = point ? best[k]! - feedOf(point) : 0;
    return lost > NO_LOSS * best[k]! ? [`${formatQuantity(lost, 'kg/h', 2)} of ${grades[k]!.name}`] : [];
  });
  const serves = all
    ? `The ${one.wheels[0]} wheel serves all grades`
    : `No wheel serves all grades; ${one.wheels[0]} serves ${one.served} of ${grades.length}`;
  const price =
    costs.length > 0
      ? `it costs ${listed(costs)} against the best wheel of each`
      : 'it costs no feed rate against the best wheel of each';
  return [`${serves}; ${price}.`, moreSentence(one, two)];
}

/** Feed rates closer than this share are the same. */
const NO_LOSS = 0.005;

function moreSentence(one: WheelSet, two: WheelSet | undefined): string {
  if (!two) return 'Another wheel is worth nothing here: it saves no time and serves no other grade.';
  const added = two.wheels.at(-1)!;
  if (two.served > one.served) return `With the ${added} wheel as well, ${two.served} grades are served.`;
  const saved = (one.time - two.time) / 60;
  return `The ${added} wheel as well saves ${formatNumber(saved, 2)} min on ${LOT} kg of each grade; it is worth its changes where these take less.`;
}

function againLine({ name, answer }: GradesAnswer['grades'][number]): string {
  return runAgain(answer.named).replace('To see it: run FILE', `run FILE --grade "${name}"`);
}

/** Keys of `find --json` for a file with grades: each grade as `find` gives it alone, and what they share. */
function gradesKeys({ grades, shared, wheels, order }: GradesAnswer) {
  const kilograms = (rate: number) => rate * 3600;
  return {
    grades: Object.fromEntries(grades.map(({ name, answer }) => [name, findKeys(answer)])),
    shared: shared.map(({ names, point, lost, probability }) => ({
      grades: names,
      set: point ? point.settings.map(typedSetting) : null,
      feedRate_kg_per_h: point ? kilograms(feedOf(point)) : null,
      lost_kg_per_h: lost.map(kilograms),
      probability: probability ?? null,
    })),
    wheels: [...wheels.single, ...wheels.growing.slice(1)].map(({ wheels: names, points, served, time }) => ({
      wheels: names,
      served,
      feedRate_kg_per_h: points.map((point) => (point ? kilograms(feedOf(point)) : null)),
      timeFor100kgEach_h: time / 3600,
    })),
    order: order ? orderKeys(order) : null,
  };
}
