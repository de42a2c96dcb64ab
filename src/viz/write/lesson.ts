import type { Scenario } from '../../scenario/scenario.ts';

import { lessonOn } from '../lesson/lesson.ts';
import { LESSON_TITLE, lessonBody, type Reader } from '../lesson/page.ts';
import { modelJson } from '../report/plain.ts';
import { bundleText } from './bundles.ts';
import { documentText } from './document.ts';

/**
 * The lesson as one HTML file with the model inside.
 *
 * @param demo the demo mill, where the lesson is told on another
 */
export function lessonText(scenario: Scenario, reader: Reader, demo?: Scenario): string {
  const bare = (each: Scenario) => modelJson(each);
  return documentText({
    title: LESSON_TITLE,
    body: lessonBody(lessonOn(scenario, demo), reader),
    style: bundleText('page.css') + bundleText('lesson.css'),
    data: { data: bare(scenario), ...(demo ? { demo: bare(demo) } : {}) },
    texts: {},
    scripts: [bundleText('lesson.js')],
  });
}
