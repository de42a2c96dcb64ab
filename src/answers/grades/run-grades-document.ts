import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import { outcomeOf } from '../../scenario/outcome/outcome.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import type { AnswerDocument, FigureReference } from '../document.ts';
import type { Audience } from '../evidence-sentence.ts';
import { listed } from '../join-words.ts';
import { pointView } from '../point-view.ts';
import { settingsText } from '../settings-words.ts';
import { openingOf } from '../verdict-words.ts';
import { forecastSentences, forecastTable } from './grade-forecast.ts';
import { withEverySpec } from './grade-of-sweep.ts';
import type { GradePoint } from './grade-point.ts';
import { trialSection } from './grade-trials.ts';
import { type GradeAtPoint, gradesAtPoint, gradesAtPointTable } from './grades-at-point.ts';

/** The report of one operating point held against every grade of its file, with the runs of a log. */
export function runGradesDocument(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  audience: Audience,
): AnswerDocument {
  const grades = gradesAtPoint(scenario);
  const points = grades.map(pointOf);
  const met = grades.filter(({ verdict }) => verdict.meets).map(({ name }) => name);
  return {
    command: 'report',
    found: met.length > 0,
    title: scenario.title,
    job: scenario.job,
    opening: openingOf(scenario),
    answer: [`${settingsText(scenario)}: the product meets ${metWords(met, grades.length)}.`],
    sections: [
      { id: 'grades', heading: 'Grade by grade', tables: [gradesAtPointTable(grades)] },
      {
        id: 'forecast',
        heading: 'Predicted for each grade',
        sentences: forecastSentences(points),
        figures: productFigure(scenario),
        tables: [forecastTable(points)],
      },
      ...trialSection(scenario, trials),
    ],
    notes: audience === 'engineer' ? points[0]!.outcome.warnings.map(({ message }) => message) : [],
    cautions: [SAFETY_CAUTION],
    keys: {
      grades: Object.fromEntries(
        grades.map(({ name, verdict }, k) => [name, { verdict, spec: points[k]!.outcome.spec }]),
      ),
    },
  };
}

/** `2 of 3 grades: standard and fine`. */
export function metWords(met: readonly string[], count: number): string {
  if (met.length === 0) return `none of the ${count} grades`;
  return met.length === count ? `all ${count} grades` : `${met.length} of ${count} grades: ${listed(met)}`;
}

/** The product with what every grade requires of it. */
function productFigure(scenario: Scenario): FigureReference[] {
  const { curves } = pointView(withEverySpec(scenario));
  if (!curves) return [];
  const data = { product: curves.product, behind: [], gates: curves.gates, measured: [] };
  return [
    { id: 'size-curve', title: 'The product and what each grade requires', figure: 'size-curve', data },
  ];
}

function pointOf({ name, scenario, standing, odds, verdict }: GradeAtPoint): GradePoint {
  const { point } = standing;
  return {
    name,
    scenario,
    point,
    outcome: outcomeOf(scenario, point),
    probability: verdict.probability ?? undefined,
    odds,
  };
}
