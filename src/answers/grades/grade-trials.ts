import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { type AnswerTable, type Cell, columns, type Section } from '../document.ts';
import { ALL_MET, type MeasuredRun, measuredRuns, valueText } from '../measured-runs.ts';
import { runCurves } from '../run-curves.ts';
import { label } from '../text.ts';
import { runTable } from '../trial-tables.ts';
import { requirementWords } from '../words.ts';
import { withEverySpec } from './grade-of-sweep.ts';

const LONGEST_NAME = 24;

/** Which grade each run of a log made, by measurement alone; nothing without runs. */
export function trialSection(scenario: Scenario, trials: readonly LoggedTrial[]): Section[] {
  if (trials.length === 0) return [];
  const { heads, rows } = runTable(trials);
  const curves = runCurves(withEverySpec(scenario), trials);
  return [
    {
      id: 'trials',
      heading: 'Which grade each run made',
      sentences: [
        'By measurement alone: "yes" where every requirement of the grade was measured and met; not resolved: misses by less than the measuring error (95 %).',
      ],
      ...(curves ? { figures: [{ ...RUNS_FIGURE, data: curves }] } : {}),
      tables: [
        gradesMade(scenario, trials),
        {
          caption: 'Settings as set, readings as taken; – was not measured',
          columns: columns(...heads),
          rows,
        },
      ],
    },
  ];
}

const RUNS_FIGURE = {
  id: 'run-curves',
  title: 'The runs and what each grade requires',
  figure: 'size-curve',
} as const;

/** A row a run, a column a grade: met, missed or not resolved, with what was measured. */
export function gradesMade(scenario: Scenario, trials: readonly LoggedTrial[]): AnswerTable {
  const names = gradeNames(scenario);
  const grades = names.map((name) => {
    const grade = scenarioOfGrade(scenario, name);
    return measuredRuns(grade, trials).map((run) => madeCell(grade, run));
  });
  return {
    columns: columns('run', ...names),
    rows: trials.map(({ name }, k) => [label(name, LONGEST_NAME), ...grades.map((cells) => cells[k]!)]),
  };
}

/** `yes`, or the requirements that are missed, else those within the measuring error, as measured. */
function madeCell({ spec }: Scenario, { lines, standing }: MeasuredRun): Cell {
  const open = lines.flatMap((line, k) =>
    line.standing === standing ? [`${valueText(spec[k]!, line)} for "${requirementWords(spec[k]!)}"`] : [],
  );
  if (standing === 'missed') return { text: `no: ${open.join('; ')}`, fails: true };
  return standing === 'not resolved' ? `not resolved: ${open.join('; ')}` : ALL_MET[standing];
}
