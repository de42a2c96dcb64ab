import { blendAnswer } from '../../answers/blend/blend-answer.ts';
import { blendSection } from '../../answers/blend/blend-section.ts';
import { footWords } from '../../answers/customer/job-fields.ts';
import { standsOn } from '../../answers/evidence-sentence.ts';
import { sourceWords } from '../../answers/figure-source.ts';
import { measuredRuns, measuredSentences } from '../../answers/measured-runs.ts';
import { measuredNear, measuredTrials } from '../../answers/measured-trials.ts';
import { pointView } from '../../answers/point-view.ts';
import { type Recommendation, recommend } from '../../answers/recommend.ts';
import { answerOf } from '../../answers/report-answer.ts';
import { reportJson } from '../../answers/report-json.ts';
import { turnsView } from '../../answers/setting-corrections.ts';
import { type SweepTable, tableGrid } from '../../answers/sweep-table.ts';
import { commonReason } from '../../answers/sweep-window.ts';
import { tableFromStore } from '../../answers/table-from-store.ts';
import { watchWords } from '../../answers/watch-words.ts';
import { type UsedFromOutside, usedFromOutside } from '../../scenario/outside/laws-used.ts';
import { sectionHtml } from '../html/answer-body.ts';
import { type Html, html } from '../html/template.ts';
import { axesOf, type Context, marksOf, positionOf, type SweepSource, take, wordsOf } from './context.ts';
import { controlsOf } from './controls.ts';
import { customerReport } from './customer-report.ts';
import { type Deflate, packSweep } from './pack-sweep.ts';
import type { ReportParts } from './parts.ts';
import {
  assumptionsPart,
  ladderPart,
  madePart,
  mattersPart,
  pointPart,
  surfacesPart,
  sweptPart,
} from './parts-of-sweep.ts';
import { modelJson } from './plain.ts';
import { pointFigures } from './point-figures.ts';
import type { ReportData } from './report-data.ts';
import { answerSection } from './sections/answer.ts';
import { controlsHtml, notLiveHtml, turnsHtml } from './sections/bench.ts';
import { cautionsSection } from './sections/cautions.ts';
import { headSection } from './sections/head.ts';
import { trialPart } from './trial-part.ts';
import { type WindowPart, windowPart } from './window-part.ts';

/** The report of a sweep, all sections. */
export function sweepReport(source: SweepSource, deflate: Deflate): ReportParts {
  const { study } = source.stored;
  const all = tableFromStore(study.scenario, study.plan.factors, source.stored.columns, source.rows);
  const context = contextOf(source, all);
  const { live, best } = context;
  if (source.audience === 'customer') return forCustomer(source, best);
  const used = usedOf(source);
  const view = pointView(best.scenario);
  const answer = answerOf(best, study.scenario);
  const window = windowPart(context);
  const swept = window ? undefined : sweptPart(context);
  const blend = blendAnswer(best.scenario);
  const bench: Part[] = [
    ...(window ? [['window', 'Operating window', window.section] as const] : []),
    ...(swept ? [['swept', 'What was swept', swept] as const] : []),
    [
      'point',
      'The point',
      pointPart(
        context,
        view,
        answer,
        pointFigures(view, measuredNear(context.trials, positionOf(context.table, best.scenario))),
      ),
    ],
    ...(blend ? [['blend', 'The blend', sectionHtml(blendSection(blend))] as const] : []),
    ['ladder', 'Feed rate', ladderPart(context)],
    ['knobs', 'Which setting', turnsHtml(turnsView(best.scenario))],
  ];
  const surfaces = surfacesPart(context);
  const matters = mattersPart(context);
  const runs = measuredRuns(study.scenario, source.trials);
  const tried = trialPart(best.scenario, source.trials, runs, (still) => take(context, still));
  const rest: Part[] = [
    ...(tried ? [['trials', 'Trials', tried] as const] : []),
    ...(surfaces ? [['surfaces', 'Response surfaces', surfaces] as const] : []),
    ...(matters ? [['matters', 'What matters', matters] as const] : []),
    ['assumptions', 'Assumptions', assumptionsPart(context)],
    ['cautions', 'Cautions', cautionsSection(view.outcome.warnings, best.scenario)],
    ['made', 'How it was made', madePart(context)],
  ];
  const { title, job } = study.scenario;
  const links = [
    ['answer', 'Answer'] as const,
    ...[...bench, ...rest].map(([id, name]) => [id, name] as const),
  ];
  const words = sourceWords(best.scenario, `${title}, sweep of ${source.stored.size} points`);
  return {
    title,
    foot: footWords(job),
    body: html`<a class="skip" href="#answer">To the answer</a>${headSection(title, job, links)}
<main class="report${tried && ' tried'}">${answerSection(answer, standsOn(best.scenario, source.audience), watchWords(best.scenario), measuredSentences(study.scenario, runs))}
${notLiveHtml(used)}
<div class="bench">${controlsHtml(live)}<div class="work">${bench.map(([, , section]) => section)}</div></div>
${rest.map(([, , section]) => section)}</main>`,
    json: reportJson(best, answer),
    data: { ...dataOf(context, window, deflate), source: words, ...(surfaces ? { solid: true } : {}) },
    offer: { figures: context.offered, source: words },
  };
}

/** The same for a customer: the document of the settings recommended. */
function forCustomer(
  { stored, trials, operator = false, beside, date, version = stored.version }: SweepSource,
  best: Recommendation,
): ReportParts {
  const { scenario: file } = stored.study;
  const answer = answerOf(best, file);
  const runs = measuredRuns(file, trials);
  const document = { scenario: best.scenario, answer, trials, runs, operator, ...(beside ? { beside } : {}) };
  return customerReport(document, reportJson(best, answer), { version, date });
}

type Part = readonly [id: string, name: string, section: Html];

/** What the sweep took from modules of the user's own. */
function usedOf({ stored: { study } }: SweepSource): UsedFromOutside[] {
  return usedFromOutside(study.scenario, { design: study.plan.design, quantities: study.quantities });
}

/** Every point with what it is ranked by, where the page carries only part of them. */
function rankedTable({ stored: { study }, ranking }: SweepSource): SweepTable | undefined {
  return ranking && tableFromStore(study.scenario, study.plan.factors, ranking.columns, ranking.rows);
}

function contextOf(source: SweepSource, table: SweepTable): Context {
  const { study } = source.stored;
  const grid = tableGrid(table);
  const first = table.quantities.find(({ of }) => of === 'x95') ?? table.quantities[0];
  return {
    source,
    best: recommend(
      study.scenario,
      study.plan.factors,
      rankedTable(source) ?? table,
      source.trials.map(({ scenario }) => scenario.settings.wheel),
    ),
    table,
    grid,
    live: usedOf(source).length === 0,
    quantity: first?.of,
    axes: axesOf(table, grid),
    trials: measuredTrials(source.trials, table.factors),
    stills: [],
    offered: [],
  };
}

function dataOf(context: Context, window: WindowPart | undefined, deflate: Deflate): ReportData {
  const { table, best, live, source, axes, quantity } = context;
  const paths = new Set(table.factors.map(({ path }) => path));
  const controls = controlsOf(best.scenario, table.factors);
  const file = controlsOf(source.stored.study.scenario, table.factors);
  return {
    ...(quantity === undefined
      ? {}
      : { sweep: packSweep(table, { ...(axes ? { axes } : {}), quantity }, deflate) }),
    controls: live ? controls : controls.filter(({ path }) => paths.has(path)),
    file: Object.fromEntries(
      file.filter(({ path }) => live || paths.has(path)).map(({ path, value }) => [path, value]),
    ),
    position: positionOf(table, best.scenario),
    marks: marksOf(context),
    words: wordsOf(table),
    chokedBecause: commonReason(table),
    ...(window?.plane ? { plane: window.plane } : {}),
    bands: window?.bands ?? {},
    showBands: best.scenario.calibration !== undefined,
    trials: context.trials,
    stills: context.stills,
    ...(live ? { live: { scenario: modelJson(best.scenario) } } : {}),
  };
}
