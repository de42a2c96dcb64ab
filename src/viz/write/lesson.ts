import type { Scenario } from '../../scenario/scenario.ts';

import { lessonOn } from '../lesson/lesson.ts';
import { LESSON_TITLE, lessonBody, type Reader } from '../lesson/page.ts';
import { plainJson } from '../report/plain.ts';
import { bundleText } from './bundles.ts';
import { documentText } from './document.ts';

/** The lesson as one HTML file with the model inside. */
export function lessonText(scenario: Scenario, reader: Reader): string {
  return documentText({
    title: LESSON_TITLE,
    body: lessonBody(lessonOn(scenario), reader),
    style: bundleText('page.css') + bundleText('lesson.css'),
    data: { data: plainJson({ ...scenario, text: '' }) },
    texts: {},
    scripts: [bundleText('lesson.js')],
  });
}
