import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { formatNumber } from '../../scenario/units/display.ts';
import { budgetOf } from '../../search/next/budget.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { type AnswerDocument, type AnswerTable, columns, type Section } from '../document.ts';
import type { Audience } from '../evidence-sentence.ts';
import { listed } from '../join-words.ts';
import { answerOf } from '../report-answer.ts';
import { reportJson } from '../report-json.ts';
import { settingsText } from '../settings-words.ts';
import { label } from '../text.ts';
import { openingAnywhere } from '../verdict-words.ts';
import { gradeCurves } from './grade-curves.ts';
import { forecastSentences, forecastTable } from './grade-forecast.ts';
import { trialSection } from './grade-trials.ts';
import { gradeTable, watchWords } from './grades-tables.ts';
import { orderKeys, orderSection } from './order-words.ts';
import type { GradeSwept, SharedRows, SweepGrades } from './sweep-grades.ts';

const NONE = '–';

/**
 * The report of a sweep over several grades: the answer grade by grade, all windows on one plane, what the grades share, and
 * the order to run them in. A customer's leaves out how the settings were found.
 *
 * @param out the store, as typed, for the commands named at the end
 */
export function sweepGradesDocument(
  answer: SweepGrades,
  trials: readonly LoggedTrial[],
  audience: Audience,
  out: string,
): AnswerDocument {
  const { scenario, grades, planes } = answer;
  const points = grades.map(({ point }) => point);
  const whole = audience === 'engineer';
  const answers = grades.map((grade) => ({ ...grade, words: answerOf(grade.best, grade.file) }));
  const sections: Section[] = [
    { id: 'grades', heading: 'Grade by grade', tables: [gradeTable(points)] },
    ...(planes
      ? [
          {
            id: 'window',
            heading: 'All grades on one plane',
            figures: [
              {
                id: 'grade-planes',
                title: 'Operating windows of the grades',
                figure: 'grade-planes',
                data: planes,
              },
            ],
          },
        ]
      : []),
    {
      id: 'forecast',
      heading: 'Predicted for each grade',
      sentences: forecastSentences(points),
      figures: gradeCurves(points),
      tables: [forecastTable(points)],
    },
    ...trialSection(scenario, trials),
    {
      id: 'limits',
      heading: 'What limits each grade',
      sentences: watchWords(points),
      tables: [
        {
          columns: columns('grade', 'how far its settings may go, and what else to know'),
          rows: answers.map(({ name, words }) => [name, words.second.join(' ')]),
        },
      ],
    },
    ...(whole ? sharedSections(answer) : []),
    ...(whole ? orderSection(answer.order, budgetOf(scenario, Number.POSITIVE_INFINITY)) : []),
    ...(whole
      ? [
          {
            id: 'again',
            heading: 'The page of each grade',
            listing: grades.map(({ name }) => `grindloop report ${out} --grade "${name}"`).join('\n'),
          },
        ]
      : []),
  ];
  const notes = whole
    ? [...new Set(points.flatMap(({ outcome }) => outcome.warnings.map(({ message }) => message)))]
    : [];
  return {
    command: 'report',
    found: grades.every(({ best }) => best.standing.meets),
    title: scenario.title,
    job: scenario.job,
    opening: openingAnywhere(scenario),
    answer: [countSentence(answer), ...answers.map(({ name, words }) => `${name}: ${words.sentence}`)],
    sections,
    notes,
    cautions: [SAFETY_CAUTION],
    keys: {
      grades: Object.fromEntries(answers.map(({ name, best, words }) => [name, reportJson(best, words)])),
      shared: answer.shared.map(({ names, points: count, best }) => ({
        grades: names,
        points: count,
        feedRate_kg_per_h: best ? best.scenario.settings.feedRate * 3600 : null,
      })),
      order: answer.order ? orderKeys(answer.order) : null,
    },
  };
}

function countSentence({ grades, points }: SweepGrades): string {
  const met = grades.filter(({ best }) => best.standing.meets);
  const missed = grades.filter(({ best }) => !best.standing.meets).map(({ name }) => name);
  const counts = grades.map(({ name, best }) => `${name} at ${best.meeting ?? 0}`);
  const first =
    missed.length === 0
      ? `points of the sweep meet each of the ${grades.length} grades`
      : met.length === 0
        ? `no point of the sweep meets any of the ${grades.length} grades`
        : `points of the sweep meet ${met.length} of ${grades.length} grades; none meets ${listed(missed)}`;
  return `${first} (of ${points} points, ${listed(counts)}).`;
}

function sharedSections(answer: SweepGrades): Section[] {
  const { shared, byWheel, grades } = answer;
  const tables: Section[] =
    shared.length > 0
      ? [
          {
            id: 'shared',
            heading: 'Settings that serve two grades',
            sentences: [
              'Points of the sweep whose product meets both specs, so that no setting changes between the two.',
            ],
            tables: [sharedTable(shared)],
          },
        ]
      : [];
  if (!byWheel || byWheel.length < 2) return tables;
  return [
    ...tables,
    {
      id: 'wheels',
      heading: 'One wheel, or more',
      sentences: [wheelSentence(byWheel, grades)],
      tables: [wheelTable(byWheel, grades)],
    },
  ];
}

function sharedTable(shared: readonly SharedRows[]): AnswerTable {
  return {
    columns: columns(
      'grades',
      'points that meet both',
      'to run first for both',
      'feed rate, kg/h',
      'sets that meet both, %',
    ),
    rows: shared.map(({ names, points, best }) => [
      names.join(' + '),
      points > 0 ? `${points}` : { text: 'none', fails: true },
      best ? settingsText(best.scenario) : NONE,
      best ? formatNumber(best.scenario.settings.feedRate * 3600, 3) : NONE,
      best ? formatNumber((100 * best.odds.meets.filter(Boolean).length) / best.odds.samples, 2) : NONE,
    ]),
  };
}

type ByWheel = NonNullable<SweepGrades['byWheel']>;

/** The wheel that serves most grades, by the time it takes for equal masses, and what it costs. */
export function wheelSentence(byWheel: ByWheel, grades: readonly Pick<GradeSwept, 'name'>[]): string {
  const served = ({ feed }: ByWheel[number]) => feed.filter((rate) => rate !== undefined).length;
  const time = ({ feed }: ByWheel[number]) =>
    feed.reduce<number>((sum, rate) => sum + (rate ? 1 / rate : 0), 0);
  const best = byWheel.reduce((a, b) =>
    served(b) > served(a) || (served(b) === served(a) && time(b) < time(a)) ? b : a,
  );
  if (served(best) === 0) return 'No wheel meets any grade at any feed rate in the sweep.';
  const costs = best.feed.flatMap((rate, k) => {
    const most = Math.max(...byWheel.map(({ feed }) => feed[k] ?? 0));
    return rate !== undefined && rate < most
      ? [`${formatNumber(most - rate, 3)} kg/h of ${grades[k]!.name}`]
      : [];
  });
  const whole =
    served(best) === grades.length
      ? 'serves all grades'
      : `serves ${served(best)} of ${grades.length} grades`;
  return `The ${label(best.wheel)} wheel ${whole}; ${costs.length > 0 ? `against the best wheel of each it costs ${listed(costs)}` : 'no other wheel feeds more of any of these'}, by the feed rates swept.`;
}

function wheelTable(byWheel: ByWheel, grades: readonly GradeSwept[]): AnswerTable {
  return {
    caption: 'Highest feed rate in the sweep that meets each grade',
    columns: columns('wheel', ...grades.map(({ name }) => `${name}, kg/h`)),
    rows: byWheel.map(({ wheel, feed }) => [
      label(wheel),
      ...feed.map((rate) => (rate === undefined ? { text: 'not met', fails: true } : formatNumber(rate, 3))),
    ]),
  };
}
