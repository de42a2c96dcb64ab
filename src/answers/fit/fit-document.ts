import { SAFETY_CAUTION } from '../../plant/safety/checklist.ts';
import type { TrialReport } from '../../trials/report-data.ts';
import type { AnswerDocument, Section } from '../document.ts';
import { foretoldTable } from '../foretold-table.ts';
import { coefficientFigure, coefficientTable, runFigure, runTable } from './fit-tables.ts';
import { coefficientSentences, fitNotes, fitSentences, runSentences } from './fit-words.ts';

/**
 * What a fit found: coefficients, what is correlated, runs, and how far to trust it.
 *
 * @param calibration file the calibration was written to
 * @param notes on the scenario
 */
export function fitDocument(
  report: TrialReport,
  {
    title,
    job,
    calibration,
    notes = [],
  }: {
    readonly title: string;
    readonly job: AnswerDocument['job'];
    readonly calibration?: string;
    readonly notes?: readonly string[];
  },
): AnswerDocument {
  const kept =
    calibration === undefined
      ? 'No calibration was written; -o CAL writes it.'
      : `The calibration is in ${calibration}; a scenario uses it by calibration: ${calibration}`;
  const foretold = foretoldTable(report.foretold);
  const heldOut = foretoldTable(report.heldOut);
  const sections: Section[] = [
    {
      id: 'coefficients',
      heading: 'Coefficients',
      sentences: coefficientSentences(report),
      figures: [coefficientFigure(report)],
      tables: [coefficientTable(report)],
    },
    {
      id: 'runs',
      heading: 'Runs, measured and model',
      sentences: runSentences(report),
      figures: [runFigure(report)],
      tables: [runTable(report)],
    },
    ...(foretold ? [{ id: 'predicted', heading: 'Predicted before the runs', tables: [foretold] }] : []),
    ...(heldOut
      ? [{ id: 'held-out', heading: 'Runs left out, predicted from the others', tables: [heldOut] }]
      : []),
  ];
  return {
    command: 'fit',
    // a calibration is written all the same, and every answer that uses it says so
    found: !report.fit.lackOfFit,
    title,
    ...(job ? { job } : {}),
    answer: [...fitSentences(report), kept],
    sections,
    notes: [...notes, ...fitNotes(report)],
    cautions: [SAFETY_CAUTION],
    keys: report,
  };
}
