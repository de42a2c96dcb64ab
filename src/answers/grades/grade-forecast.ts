import type { Scenario } from '../../scenario/scenario.ts';
import { formatNumber, labelOf } from '../../scenario/units/display.ts';
import { calibrationStanding } from '../../trials/calibration/calibration-standing.ts';
import { type AnswerTable, columns } from '../document.ts';
import { requirementWords } from '../words.ts';
import type { GradePoint } from './grade-point.ts';

/**
 * Requirement by requirement what is predicted of each grade at its settings, with its band over the samples of the
 * coefficients. The trials of every grade are in it, since one calibration serves all.
 */
export function forecastTable(grades: readonly GradePoint[]): AnswerTable {
  const rows = grades.flatMap(({ name, scenario, outcome, odds }) =>
    outcome.spec.map((result, k) => {
      const line = odds.lines[k]!;
      const digits = (value: number) => formatNumber(value, 3);
      return [
        name,
        requirementWords(scenario.spec[k]!),
        { text: digits(result.value), fails: !result.met },
        Number.isFinite(line.low) ? `${digits(line.low)} to ${digits(line.high)}` : '–',
        labelOf(scenario.spec[k]!.shownIn),
        formatNumber((100 * line.met) / odds.samples, 2),
      ];
    }),
  );
  return {
    columns: columns('grade', 'required', 'value', 'plausible, 10 to 90 %', 'unit', 'sets that meet it, %'),
    rows,
  };
}

/** What the forecasts of the grades rely on: one calibration for all, and which grades lie beyond the settings of its trials. */
export function forecastSentences(grades: readonly GradePoint[]): string[] {
  const [first] = grades;
  if (!first?.scenario.calibration)
    return [
      'No trial is in these forecasts: the bands are those of assumed coefficients, the same for every grade.',
    ];
  const beyond = grades.flatMap(({ name, scenario }) => notRunYet(name, scenario));
  return [
    'One calibration serves all grades: the trials of one narrow the bands of the others.',
    ...(beyond.length > 0 ? beyond : ['The settings of every grade lie within those of the trials.']),
  ];
}

/** A grade whose settings lie beyond those of the trials. */
export function notRunYet(name: string, scenario: Scenario): string[] {
  const { outside } = calibrationStanding(scenario);
  return outside.length > 0
    ? [`${name} was not run yet at such settings: ${outside.join('; ')}. Its band is wider for it.`]
    : [];
}
