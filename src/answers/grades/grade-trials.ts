import type { Scenario } from '../../scenario/scenario.ts';
import { gradeNames, scenarioOfGrade } from '../../scenario/scenario-of-grade.ts';
import { formatNumber, labelOf, toShown } from '../../scenario/units/display.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { type AnswerTable, type Cell, columns, type Section } from '../document.ts';
import { measuredSpec } from '../measured-spec.ts';
import { label } from '../text.ts';
import { runTable } from '../trial-tables.ts';
import { requirementWords } from '../words.ts';

const LONGEST_NAME = 24;

/** Which grade each run of a log made, by measurement alone; nothing without runs. */
export function trialSection(scenario: Scenario, trials: readonly LoggedTrial[]): Section[] {
  if (trials.length === 0) return [];
  const { heads, rows } = runTable(trials);
  return [
    {
      id: 'trials',
      heading: 'Which grade each run made',
      sentences: [
        'By measurement alone: "yes" where every requirement of the grade was measured and met, "open" where one was not measured.',
      ],
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

/** A row a run, a column a grade: met, open, or what it misses first as measured. */
export function gradesMade(scenario: Scenario, trials: readonly LoggedTrial[]): AnswerTable {
  const names = gradeNames(scenario);
  return {
    columns: columns('run', ...names),
    rows: trials.map((trial) => [
      label(trial.name, LONGEST_NAME),
      ...names.map((name): Cell => madeCell(scenarioOfGrade(scenario, name), trial)),
    ]),
  };
}

function madeCell({ spec }: Scenario, trial: LoggedTrial): Cell {
  const lines = spec.map((line) => ({ line, ...measuredSpec(line, trial) }));
  const missed = lines.filter(({ met }) => met === false);
  if (missed.length > 0) {
    const text = missed.map(({ line, value }) => {
      const unit = labelOf(line.shownIn);
      return `${formatNumber(toShown(value, line.shownIn), 3)}${unit ? ` ${unit}` : ''} for "${requirementWords(line)}"`;
    });
    return { text: `no: ${text.join('; ')}`, fails: true };
  }
  return lines.every(({ met }) => met) ? 'yes' : 'open';
}
