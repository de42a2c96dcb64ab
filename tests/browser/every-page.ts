import type { Audience } from '../../src/answers/evidence-sentence.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compareWheels } from '../../src/search/compare/comparison.ts';
import type { LoggedTrial } from '../../src/trials/log/logged.ts';
import { comparisonPage } from '../../src/viz/compare/page.ts';
import { runReport } from '../../src/viz/report/run-report.ts';
import { lessonText } from '../../src/viz/write/lesson.ts';
import { reportText } from '../../src/viz/write/report.ts';
import { demo, sweepParts } from './sweep-page.ts';

const MADE = { version: 'of a test', date: '2026-01-01' } as const;

/** Options that make the demo's sweep small. */
export const SMALL = [
  'sweep.factors.rotorSpeed.steps=4',
  'sweep.factors.wheelSpeed.steps=5',
  'sweep.factors.feedRate.steps=3',
];

/** A run logged at a scenario's own settings, with a curve of three points. */
export function trialAt(scenario: Scenario, name: string, method = 'laser'): LoggedTrial {
  const sizes = {
    method,
    points: [10, 40, 90].map((size, i) => ({ size: size * 1e-6, undersize: [0.2, 0.6, 0.97][i]! })),
  } as unknown as NonNullable<LoggedTrial['sizes']>;
  return { name, scenario, sizes, repeats: 2, place: name, flags: [name], foretold: {}, remarks: {} };
}

/** Every page the program writes, of one scenario with a small sweep. */
function everyPage(scenario: Scenario, trials: readonly LoggedTrial[]): Record<string, string> {
  return {
    ...pagesOf(scenario, trials),
    'lesson for students': lessonText(scenario, 'student'),
    'lesson for who teaches': lessonText(scenario, 'teacher'),
  };
}

/**
 * The same but for the lesson's other versions, which only add or leave out words of the program's own.
 *
 * @param taught what the lesson is made from: it names the demo's wheels
 */
export function pagesOf(
  scenario: Scenario,
  trials: readonly LoggedTrial[],
  taught: Scenario = scenario,
): Record<string, string> {
  return {
    ...sweepPages(scenario, trials),
    run: reportText(runReport(scenario, { ...MADE, audience: 'engineer', trials })),
    'run for a customer': reportText(runReport(scenario, { ...MADE, audience: 'customer', trials })),
    comparison: reportText(comparisonPage(scenario, compareWheels(scenario), MADE)),
    lesson: lessonText(taught, 'all'),
  };
}

let ofTheDemo: Promise<Record<string, string>> | undefined;

/** Every page of the demo with a small sweep and one trial: made once for all files that look at them. */
export function demoPages(): Promise<Record<string, string>> {
  ofTheDemo ??= demo(SMALL).then((scenario) => everyPage(scenario, [trialAt(scenario, 'T1')]));
  return ofTheDemo;
}

function sweepPages(scenario: Scenario, trials: readonly LoggedTrial[]): Record<string, string> {
  const page = (audience: Audience, some: readonly LoggedTrial[]) =>
    reportText(sweepParts(scenario, audience, some));
  return {
    sweep: page('engineer', []),
    'sweep with trials': page('engineer', trials),
    'sweep for a customer': page('customer', trials),
  };
}
