import { blendAnswer } from '../../answers/blend/blend-answer.ts';
import { blendSection } from '../../answers/blend/blend-section.ts';
import { footWords } from '../../answers/customer/job-fields.ts';
import type { Audience } from '../../answers/evidence-sentence.ts';
import { standsOn } from '../../answers/evidence-sentence.ts';
import { sourceWords } from '../../answers/figure-source.ts';
import { measuredRuns, measuredSentences } from '../../answers/measured-runs.ts';
import { measuredNear, measuredTrials } from '../../answers/measured-trials.ts';
import { swayView } from '../../answers/one-at-a-time.ts';
import { pointState, pointView } from '../../answers/point-view.ts';
import { asInFile } from '../../answers/recommend.ts';
import { answerOf } from '../../answers/report-answer.ts';
import { reportJson } from '../../answers/report-json.ts';
import { ladderWith } from '../../answers/second-machine.ts';
import { turnsView } from '../../answers/setting-corrections.ts';
import { watchWords } from '../../answers/watch-words.ts';
import { usedFromOutside } from '../../scenario/outside/laws-used.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { LoggedTrial } from '../../trials/log/logged.ts';
import { sectionHtml } from '../html/answer-body.ts';
import { html } from '../html/template.ts';
import { controlsOf } from './controls.ts';
import { customerReport } from './customer-report.ts';
import type { ReportParts } from './parts.ts';
import { modelJson } from './plain.ts';
import { pointFigures, type Still, stillOf } from './point-figures.ts';
import type { ReportData } from './report-data.ts';
import { answerSection } from './sections/answer.ts';
import { assumptionsSection } from './sections/assumptions.ts';
import { controlsHtml, notLiveHtml, pointSection, turnsHtml } from './sections/bench.ts';
import { cautionsSection } from './sections/cautions.ts';
import { headSection } from './sections/head.ts';
import { madeSection } from './sections/made.ts';
import { trialPart } from './trial-part.ts';

/** Who made a run's report, when and for whom, and the trials drawn in it. */
interface RunMade {
  readonly version: string;
  /** ISO date. */
  readonly date: string;
  readonly audience: Audience;
  /** Whether a customer's document names who ran the mill. */
  readonly operator?: boolean;
  readonly trials?: readonly LoggedTrial[];
  /** A second machine, laid over the ladder. */
  readonly beside?: Scenario;
}

/** What a trial's curve must agree in to be shown with the point. */
const SETTINGS = ['wheel', 'wheelSpeed', 'rotorSpeed', 'feedRate'];

/** The report of one operating point: a sweep's report without window, surfaces and what matters. */
export function runReport(
  scenario: Scenario,
  { version, date, audience, operator = false, trials = [], beside }: RunMade,
): ReportParts {
  const used = usedFromOutside(scenario);
  const live = used.length === 0;
  const own = asInFile(scenario);
  const answer = answerOf(own, scenario);
  const runs = measuredRuns(scenario, trials);
  if (audience === 'customer') {
    const document = { scenario, answer, trials, runs, operator, ...(beside ? { beside } : {}) };
    return customerReport(document, reportJson(own, answer), { version, date });
  }
  const view = pointView(scenario);
  const controls = controlsOf(scenario, []);
  const compared = controls.filter(({ path }) => SETTINGS.includes(path));
  const measured = measuredTrials(trials, compared);
  const settings = Object.fromEntries(controls.map(({ path, value }) => [path, value]));
  const taken: Still[] = [];
  const take = (still: Still) => {
    taken.push(still);
    return still.html;
  };
  const figures = pointFigures(view, measuredNear(measured, settings)).map(take);
  const ladder = take(stillOf('ladder', ladderWith(scenario, beside)));
  const sway = take(
    stillOf('spans', swayView(scenario), {
      id: 'sway',
      title: 'Which of them moves the answer most',
    }),
  );
  const blend = blendAnswer(scenario);
  const tried = trialPart(scenario, trials, runs, take);
  const links = [
    ['answer', 'Answer'],
    ...(tried ? [['trials', 'Trials']] : []),
    ['point', 'The point'],
    ...(blend ? [['blend', 'The blend']] : []),
    ['ladder', 'Feed rate'],
    ['knobs', 'Which setting'],
    ['assumptions', 'Assumptions'],
    ['cautions', 'Cautions'],
    ['made', 'How it was made'],
  ] as [string, string][];
  const point = pointSection({
    title: 'The operating point',
    state: pointState(scenario, view),
    figures,
    outcome: view.outcome,
    lines: answer.spec,
  });
  const made = { program: `grindloop ${version}`, date, design: 'one operating point' };
  const data: ReportData = {
    source: sourceWords(scenario, scenario.title),
    controls: live ? controls : [],
    file: live ? settings : {},
    position: {},
    marks: [],
    words: {},
    chokedBecause: '',
    trials: measured,
    stills: taken.map(({ still }) => still),
    ...(live ? { live: { scenario: modelJson(scenario) } } : {}),
  };
  const { title, job, text } = scenario;
  return {
    title,
    foot: footWords(job),
    body: html`<a class="skip" href="#answer">To the answer</a>${headSection(title, job, links)}
<main class="report">${answerSection(answer, standsOn(scenario, audience), watchWords(scenario), measuredSentences(scenario, runs))}
${tried}
${notLiveHtml(used)}
<div class="${live ? 'bench' : 'alone'}">${live ? controlsHtml(true, 'run') : undefined}<div class="work">${point}
${blend ? sectionHtml(blendSection(blend)) : undefined}
<section id="ladder"><h2>How much can it do?</h2>${ladder}</section>
${turnsHtml(turnsView(scenario))}</div></div>
${assumptionsSection(scenario, sway)}
${cautionsSection(view.outcome.warnings, scenario)}
${madeSection({ ...made, scenarioText: text })}</main>`,
    data,
    json: reportJson(own, answer),
    offer: { figures: taken.map(({ offered }) => offered), source: sourceWords(scenario, title) },
  };
}
