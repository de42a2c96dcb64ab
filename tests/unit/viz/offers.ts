import { compareWheels } from '../../../src/search/compare/comparison.ts';
import { comparisonPage } from '../../../src/viz/compare/page.ts';
import type { FigureOffer } from '../../../src/viz/figures/figure-offer.ts';
import { lessonFigures } from '../../../src/viz/lesson/figures.ts';
import { lessonOn } from '../../../src/viz/lesson/lesson.ts';
import { runReport } from '../../../src/viz/report/run-report.ts';
import { demo, sweepParts } from '../../browser/sweep-page.ts';

const MADE = { version: 'of a test', date: '2026-01-01' } as const;
/** A sweep small enough for a test that still has every figure. */
const SMALL = [
  'sweep.factors.rotorSpeed.steps=5',
  'sweep.factors.wheelSpeed.steps=5',
  'sweep.factors.feedRate.steps=3',
];

/** What each command that writes figures offers, on the demo case. */
export async function everyOffer(): Promise<[command: string, offer: FigureOffer][]> {
  const scenario = await demo();
  const choked = await demo(['settings.feedRate=5 t/h']);
  return [
    ['run', runReport(scenario, { ...MADE, audience: 'engineer' }).offer],
    ['run that chokes', runReport(choked, { ...MADE, audience: 'engineer' }).offer],
    ['report of a sweep', sweepParts(await demo(SMALL)).offer],
    ['compare', comparisonPage(scenario, compareWheels(scenario), MADE).offer],
    ['lesson', lessonFigures(lessonOn(scenario))],
  ];
}
