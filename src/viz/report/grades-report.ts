import { footWords } from '../../answers/customer/job-fields.ts';
import type { Audience } from '../../answers/evidence-sentence.ts';
import { runGradesDocument } from '../../answers/grades/run-grades-document.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { answerBody } from '../html/answer-body.ts';
import { customerGradesReport } from './customer-report.ts';
import type { ReportParts } from './parts.ts';
import { madeSection } from './sections/made.ts';

/** What a report says of its making as its design where it is of every grade at one point. */
export const EVERY_GRADE = 'one operating point, every grade';

/** The report of one operating point against every grade of its file: a page without a live model. */
export function gradesReport(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  audience: Audience,
  made: { readonly version: string; readonly date: string },
): ReportParts {
  const document = runGradesDocument(scenario, trials, audience);
  const customer = customerGradesReport({ scenario, trials, operator: false }, document, made);
  if (audience === 'customer') return customer;
  const { version, date } = made;
  const foot = madeSection({
    program: `grindloop ${version}`,
    date,
    design: EVERY_GRADE,
    scenarioText: scenario.text,
  });
  return {
    ...customer,
    title: `${document.title}: ${document.command}`,
    foot: footWords(scenario.job),
    body: answerBody(document, foot),
  };
}
