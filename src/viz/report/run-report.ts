import type { Scenario } from '../../scenario/scenario.ts';
import { writePlainData } from '../../sweep/store/plain-data.ts';
import { sentence } from '../escape.ts';
import { html } from '../html/template.ts';
import { ladderView } from '../live/ladder.ts';
import { standingOf } from '../live/limits.ts';
import { pointView } from '../live/point.ts';
import { swayView } from '../live/sway.ts';
import { turnsView } from '../live/turns.ts';
import { requirementWords } from '../words.ts';
import { answerOf, settingsText } from './answer.ts';
import { controlsOf } from './controls.ts';
import type { Audience, ReportParts } from './parts.ts';
import { pointFigures, stillOf } from './point-figures.ts';
import { answerSection } from './sections/answer.ts';
import { assumptionsSection } from './sections/assumptions.ts';
import { controlsHtml, pointSection, turnsHtml } from './sections/bench.ts';
import { cautionsSection } from './sections/cautions.ts';
import { headSection } from './sections/head.ts';
import { madeSection } from './sections/made.ts';

/** Who made a run's report, when and for whom. */
export interface RunMade {
  readonly version: string;
  readonly date: string;
  readonly audience: Audience;
}

/** The report of one operating point: a sweep's without window, surfaces and effects. */
export function runReport(scenario: Scenario, { version, date, audience }: RunMade): ReportParts {
  const whole = audience === 'engineer';
  const view = pointView(scenario);
  const recommendation = { meets: standingOf(scenario).meets, changes: [], scenario };
  const answer = answerOf(recommendation, view.outcome, 'run');
  const figures = pointFigures(view, [], whole);
  const ladder = stillOf('ladder', ladderView(scenario));
  const sway = whole
    ? stillOf('spans', swayView(scenario, 'x95'), {
        id: 'sway',
        title: 'Which of them moves the answer most',
      })
    : undefined;
  const point = pointSection({
    title: whole ? 'The point' : 'The product',
    state: `${sentence(settingsText(scenario))}.`,
    figures: figures.map(({ html: each }) => each),
    outcome: view.outcome,
    lines: whole ? scenario.spec.map((line) => ({ asked: requirementWords(line) })) : [],
    numbers: whole,
  });
  const links = [
    ['answer', 'Answer'],
    ['point', 'The point'],
    ['ladder', 'Feed rate'],
    ...(whole
      ? [
          ['knobs', 'Which knob'],
          ['assumptions', 'Assumptions'],
        ]
      : []),
    ['cautions', 'Cautions'],
    ['made', 'How it was made'],
  ] as [string, string][];
  const made = madeSection({
    program: `grindloop ${version}`,
    date,
    design: 'one operating point',
    ...(whole ? { scenarioText: scenario.text } : {}),
  });
  const body = html`<a class="skip" href="#answer">To the answer</a>${headSection(scenario.title, scenario.job, links)}
<main>${answerSection(answer)}
<div class="bench"><div class="work">${point}
<section id="ladder"><h2>How much can it do?</h2>${ladder.html}</section>
${whole ? turnsHtml(turnsView(scenario)) : undefined}</div>${whole ? controlsHtml(true) : undefined}</div>
${sway ? assumptionsSection(scenario, sway.html) : undefined}
${cautionsSection(view.outcome.warnings)}
${made}</main>`;
  const controls = whole ? controlsOf(scenario, []) : [];
  const stills = [...figures, ladder, ...(sway ? [sway] : [])].map(({ still }) => still);
  return {
    title: scenario.title,
    body,
    data: {
      controls,
      file: Object.fromEntries(controls.map(({ path, value }) => [path, value])),
      position: {},
      marks: [],
      words: {},
      chokedBecause: '',
      measured: [],
      stills,
      ...(whole ? { live: { scenario: writePlainData({ ...scenario, text: '' }) } } : {}),
    },
  };
}
