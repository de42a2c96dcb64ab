import { footWords } from '../../answers/customer/job-fields.ts';
import type { AnswerDocument } from '../../answers/document.ts';
import { answerBody } from '../html/answer-body.ts';
import { pageFoot } from '../html/page-foot.ts';
import { madeSection } from '../report/sections/made.ts';
import { bundleText } from './bundles.ts';
import { documentText } from './document.ts';

/** How a page came to be. */
export interface MadeBy {
  readonly version: string;
  readonly date: string;
  /** The scenario as read; none where measured files are all that was read. */
  readonly scenarioText?: string;
  /** Of a stored sweep: its content hash, and what was swept. */
  readonly hash?: string;
  readonly design?: string;
}

/** An answer as one HTML file without any script. */
export function answerPage(
  document: AnswerDocument,
  { version, date, scenarioText, hash, design }: MadeBy,
): string {
  const made = madeSection({
    program: `grindloop ${version}`,
    date,
    design: design ?? `grindloop ${document.command}`,
    ...(hash === undefined ? {} : { hash }),
    ...(scenarioText === undefined ? {} : { scenarioText }),
  });
  return documentText({
    title: `${document.title}: ${document.command}`,
    body: answerBody(document, made),
    style: bundleText('page.css') + pageFoot(footWords(document.job ?? {})),
    data: {},
    texts: {},
    scripts: [],
  });
}
