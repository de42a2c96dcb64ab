import { toCase, valueAt } from '../../scenario/point.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { toShown } from '../../scenario/units/display.ts';
import type { LevelGrid, Position } from '../../search/window/levels.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import { operatingWindow } from '../../search/window/window.ts';
import { writePlainData } from '../../sweep/store/plain-data.ts';
import type { StoredStudy } from '../../sweep/store/stored-study.ts';
import { label, sentence } from '../escape.ts';
import type { MeasuredLine } from '../figures/size-curve.ts';
import { type Html, html } from '../html/template.ts';
import { ladderView } from '../live/ladder.ts';
import { planeView } from '../live/plane.ts';
import { pointView } from '../live/point.ts';
import { swayView } from '../live/sway.ts';
import { turnsView } from '../live/turns.ts';
import { type Answer, answerOf, settingsText } from './answer.ts';
import { controlsOf, tidy } from './controls.ts';
import { tableFromStore } from './from-store.ts';
import { type IndexedRows, mattersOf } from './matters.ts';
import { type Deflate, packSweep } from './pack-sweep.ts';
import type { Audience, ReportParts } from './parts.ts';
import { pointFigures, type Still, stillOf } from './point-figures.ts';
import { type Recommendation, recommend } from './recommend.ts';
import type { ReportData } from './report-data.ts';
import { ridgeOf } from './ridge.ts';
import { answerSection } from './sections/answer.ts';
import { assumptionsSection } from './sections/assumptions.ts';
import { controlsHtml, pointSection, turnsHtml, windowSection } from './sections/bench.ts';
import { cautionsSection } from './sections/cautions.ts';
import { headSection } from './sections/head.ts';
import { madeSection } from './sections/made.ts';
import { type SweepTable, tableGrid } from './sweep-table.ts';
import { commonReason, firstAxes, levelsOf, sweepWindow } from './sweep-window.ts';

/** What a sweep's report is made from. */
export interface SweepSource {
  readonly stored: Pick<StoredStudy, 'study' | 'columns' | 'size' | 'hash' | 'version'>;
  readonly rows: IndexedRows;
  readonly measured: readonly MeasuredLine[];
  /** Trials as marks: name and factor values in the units shown. */
  readonly trials: readonly {
    readonly name: string;
    readonly at: Readonly<Record<string, number | string>>;
  }[];
  readonly date: string;
  readonly audience: Audience;
}

/** Quantities a customer's report shows: of the product and of what it costs, nothing of the inside. */
const CUSTOMER =
  /^(x\d+|span|d32|d43|surface|passing.*|oversize.*|motorLoad|rotorPower|outletTemperature|specificEnergy|productLoading)$/;

/** The report of a sweep, all sections. */
export function sweepReport(source: SweepSource, deflate: Deflate): ReportParts {
  const { study } = source.stored;
  const whole = source.audience === 'engineer';
  const all = tableFromStore(study.scenario, study.plan.factors, source.stored.columns, source.rows);
  const table = whole ? all : { ...all, quantities: all.quantities.filter(({ of }) => CUSTOMER.test(of)) };
  const best = recommend(study.scenario, study.plan.factors, all);
  const view = pointView(best.scenario);
  const answer = answerOf(best, view.outcome, 'sweep');
  const quantity = (table.quantities.find(({ of }) => of === 'x95') ?? table.quantities[0])?.of;
  const grid = tableGrid(table);
  const made: Sections = { source, best, table, grid, whole, stills: [] };
  const window = quantity === undefined ? undefined : windowPart(made, quantity);
  const figures = pointFigures(view, source.measured, whole);
  made.stills.push(...figures.map(({ still }) => still));
  const sections: (readonly [id: string, name: string, section: Html])[] = [
    ['answer', 'Answer', answerSection(answer)],
  ];
  const bench: Html[] = [];
  if (window) bench.push(window.section);
  bench.push(pointPart(made, view, answer, figures));
  bench.push(ladderPart(made));
  if (whole) bench.push(turnsHtml(turnsView(best.scenario)));
  const surfaces = quantity === undefined ? undefined : surfacesPart(made, quantity);
  const matters = quantity === undefined || !whole ? undefined : mattersPart(made, quantity);
  const rest: (readonly [string, string, Html])[] = [
    ...(surfaces ? [['surfaces', 'Response surfaces', surfaces] as const] : []),
    ...(matters ? [['matters', 'What matters', matters] as const] : []),
    ...(whole ? [['assumptions', 'Assumptions', assumptionsPart(made)] as const] : []),
    ['cautions', 'Cautions', cautionsSection(view.outcome.warnings)],
    ['made', 'How it was made', madePart(made)],
  ];
  const links = [
    ['answer', 'Answer'],
    ...(window ? [['window', 'Operating window']] : []),
    ['point', 'The point'],
    ['ladder', 'Feed rate'],
    ...(whole ? [['knobs', 'Which knob']] : []),
    ...rest.map(([id, name]) => [id, name]),
  ] as [string, string][];
  const { title, job } = study.scenario;
  return {
    title,
    body: html`<a class="skip" href="#answer">To the answer</a>${headSection(title, job, links)}
<main>${sections.map(([, , section]) => section)}
<div class="bench"><div class="work">${bench}</div>${controlsHtml(whole)}</div>
${rest.map(([, , section]) => section)}</main>`,
    data: dataOf(made, quantity, window?.plane, deflate),
  };
}

/** What the sections share while a report is made. */
interface Sections {
  readonly source: SweepSource;
  readonly best: Recommendation;
  readonly table: SweepTable;
  readonly grid: LevelGrid | undefined;
  readonly whole: boolean;
  readonly stills: Still['still'][];
}

function add(made: Sections, still: Still): Html {
  made.stills.push(still.still);
  return still.html;
}

function positionOf(table: SweepTable, scenario: Scenario): Record<string, number | string> {
  return Object.fromEntries(
    table.factors.map(({ path, shownIn, names }) => {
      const value = valueAt(scenario, path);
      return [path, names || typeof value !== 'number' ? String(value) : tidy(toShown(value, shownIn))];
    }),
  );
}

function windowPart(made: Sections, quantity: string): { section: Html; plane?: PlaneFields } | undefined {
  const { table, grid, best, source } = made;
  const axes = axesOf(table, grid);
  if (!axes) return undefined;
  const at = positionOf(table, best.scenario);
  const shown = table.quantities.find(({ of }) => of === quantity)!;
  const plane = grid ? undefined : solvedPlane(made, axes, quantity);
  const window = grid
    ? sweepWindow(table, grid, axes, at, quantity)
    : operatingWindow(plane!, levelsOf(shown));
  const [x, y] = axes.map((path) => table.factors.find((factor) => factor.path === path)!.measure);
  const marks = marksOf(made)
    .filter((mark) =>
      Object.entries(mark.at).every(([path, value]) => axes.includes(path) || at[path] === value),
    )
    .map(({ at: place, ...mark }) => ({ ...mark, x: place[axes[0]] as number, y: place[axes[1]] as number }));
  const still = stillOf(
    'window',
    {
      window,
      x: x!,
      y: y!,
      quantity: shown.measure,
      words: wordsOf(table),
      chokedBecause: commonReason(table),
      marks,
    },
    { title: false },
  );
  const missing =
    source.rows.count < source.stored.size
      ? html`<p class="notice">${source.rows.count} of ${source.stored.size} points are in the store; the rest is still to be run.</p>`
      : undefined;
  return { section: windowSection(still.html, missing), ...(plane ? { plane } : {}) };
}

function axesOf(table: SweepTable, grid: LevelGrid | undefined): readonly [string, string] | undefined {
  if (grid) return firstAxes(table, grid);
  const numbers = table.factors.filter(({ names }) => !names).map(({ path }) => path);
  const wanted = ['wheelSpeed', 'rotorSpeed'].filter((path) => numbers.includes(path));
  const [x, y] = [...wanted, ...numbers.filter((path) => !wanted.includes(path))];
  return x !== undefined && y !== undefined ? [x, y] : undefined;
}

const PLANE_NODES = 25;

function solvedPlane(
  { table, best }: Sections,
  axes: readonly [string, string],
  quantity: string,
): PlaneFields {
  const [x, y] = axes.map((path) => {
    const factor = table.factors.find((each) => each.path === path)!;
    const values = Float64Array.from(factor.values as Float64Array).sort();
    const [low, high] = [values[0]!, values[values.length - 1]!];
    const levels = Float64Array.from(
      { length: PLANE_NODES },
      (_, i) => low + ((high - low) * i) / (PLANE_NODES - 1),
    );
    return { path, shownIn: factor.shownIn, levels, ...(factor.as ? { as: factor.as } : {}) };
  });
  return planeView(best.scenario, x!, y!, quantity);
}

function marksOf({ best, source, table }: Sections): ReportData['marks'] {
  const { scenario } = source.stored.study;
  return [
    { kind: 'best', name: best.meets ? 'recommended' : 'nearest', at: positionOf(table, best.scenario) },
    { kind: 'file', name: 'in the file', at: positionOf(table, scenario) },
    ...source.trials.map(({ name, at }) => ({ kind: 'trial' as const, name: label(name, 18), at })),
  ];
}

function wordsOf(table: SweepTable): Record<string, string> {
  return Object.fromEntries(table.limits.map(({ name, words }) => [name, words]));
}

function pointPart(
  made: Sections,
  view: ReturnType<typeof pointView>,
  { spec }: Answer,
  figures: readonly Still[],
): Html {
  return pointSection({
    title: made.whole ? 'The pinned point' : 'The product at the recommended point',
    state: `${sentence(settingsText(made.best.scenario))}.`,
    figures: figures.map(({ html: each }) => each),
    outcome: view.outcome,
    lines: made.whole ? spec : [],
    numbers: made.whole,
  });
}

function ladderPart(made: Sections): Html {
  const { grid, table, best } = made;
  const ladder = add(made, stillOf('ladder', ladderView(best.scenario)));
  const axis = grid && firstAxes(table, grid)?.[0];
  const ridge = grid && axis && ridgeOf(table, grid, axis);
  return html`<section id="ladder"><h2>How much can it do?</h2>${ladder}${ridge ? add(made, stillOf('ridge', ridge)) : undefined}</section>`;
}

function surfacesPart(made: Sections, quantity: string): Html | undefined {
  const { grid, table, best } = made;
  const axes = grid && firstAxes(table, grid);
  if (!grid || !axes) return undefined;
  const wheels = grid.factors.find(({ path, kind }) => path === 'wheel' && kind === 'name');
  const at: Position = positionOf(table, best.scenario);
  const names = wheels ? (wheels.levels as readonly string[]) : [undefined];
  const planes = names.map((name) => ({
    name: name === undefined ? label(toCase(best.scenario).wheelName) : label(name),
    window: sweepWindow(table, grid, axes, name === undefined ? at : { ...at, wheel: name }, quantity),
  }));
  const [x, y] = axes.map((path) => table.factors.find((factor) => factor.path === path)!.measure);
  const { measure } = table.quantities.find(({ of }) => of === quantity)!;
  // drawn anew by the window's script, so it is not among the stills
  const still = stillOf(
    'surfaces',
    { planes, x: x!, y: y!, quantity: measure },
    { width: 1060, title: false },
  );
  return html`<section id="surfaces"><h2>Response surfaces</h2>${still.html}</section>`;
}

function mattersPart(made: Sections, quantity: string): Html {
  const { effects, indices } = mattersOf(made.source.stored, made.source.rows, made.table, quantity);
  return html`<section id="matters"><h2>What matters</h2>
${add(made, stillOf('effects', effects, { width: 1060 }))}
${indices ? add(made, stillOf('indices', indices)) : undefined}</section>`;
}

function assumptionsPart(made: Sections): Html {
  const sway = stillOf('spans', swayView(made.best.scenario, 'x95'), {
    id: 'sway',
    title: 'Which of them moves the answer most',
  });
  return assumptionsSection(made.best.scenario, add(made, sway));
}

function madePart({ source, whole }: Sections): Html {
  const { study, hash, version, size } = source.stored;
  const factors = study.plan.factors.map(({ path }) => path).join(', ');
  return madeSection({
    program: `grindloop ${version}`,
    hash,
    date: source.date,
    design: `${study.plan.design} over ${factors}: ${size} points`,
    ...(whole ? { scenarioText: study.scenario.text } : {}),
  });
}

function dataOf(
  made: Sections,
  quantity: string | undefined,
  plane: PlaneFields | undefined,
  deflate: Deflate,
): ReportData {
  const { table, grid, best, whole, source } = made;
  const axes = axesOf(table, grid);
  const paths = new Set(table.factors.map(({ path }) => path));
  const shown = (scenario: Scenario) =>
    controlsOf(scenario, table.factors).filter(({ path }) => whole || paths.has(path));
  return {
    ...(quantity === undefined
      ? {}
      : { sweep: packSweep(table, { ...(axes ? { axes } : {}), quantity }, deflate) }),
    controls: shown(best.scenario),
    file: Object.fromEntries(shown(source.stored.study.scenario).map(({ path, value }) => [path, value])),
    position: positionOf(table, best.scenario),
    marks: marksOf(made),
    words: wordsOf(table),
    chokedBecause: commonReason(table),
    ...(plane ? { plane } : {}),
    measured: source.measured,
    stills: made.stills,
    ...(whole ? { live: { scenario: writePlainData({ ...best.scenario, text: '' }) } } : {}),
  };
}
