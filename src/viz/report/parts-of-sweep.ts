import { ridgeOf } from '../../answers/capacity-ridge.ts';
import { limitingQuantity } from '../../answers/limiting-quantity.ts';
import { swayView } from '../../answers/one-at-a-time.ts';
import { type PointView, pointState } from '../../answers/point-view.ts';
import type { Answer } from '../../answers/report-answer.ts';
import { ladderWith } from '../../answers/second-machine.ts';
import { quantityOf, type SweepTable } from '../../answers/sweep-table.ts';
import { levelsOf, sweepWindow } from '../../answers/sweep-window.ts';
import { sweptLines } from '../../answers/swept-lines.ts';
import { label } from '../../answers/text.ts';
import { mattersOf } from '../../answers/what-matters.ts';
import { otherVersion } from '../../scenario/other-version.ts';
import type { Position } from '../../search/window/levels.ts';
import { type Html, html } from '../html/template.ts';
import { type Context, offer, positionOf, take } from './context.ts';
import { type Still, stillOf } from './point-figures.ts';
import { assumptionsSection } from './sections/assumptions.ts';
import { pointSection } from './sections/bench.ts';
import { madeSection } from './sections/made.ts';

/** Width of a figure that takes the whole page [px]. */
const WHOLE_WIDTH = 1060;

/** Of a sweep over one number: the required quantities against it, with their limits. */
export function sweptPart(context: Context): Html | undefined {
  const figures = sweptLines(context.source.stored.study.scenario, context.table);
  if (figures.length === 0) return undefined;
  const drawn = figures.map(({ id, title, input }) => take(context, stillOf('lines', input, { id, title })));
  return html`<section id="swept"><h2>What was swept</h2>${drawn}</section>`;
}

/** Figures and numbers of the recommended point. */
export function pointPart(
  context: Context,
  view: PointView,
  { spec }: Answer,
  figures: readonly Still[],
): Html {
  return pointSection({
    title: 'The pinned point',
    state: pointState(context.best.scenario, view),
    figures: figures.map((figure) => take(context, figure)),
    outcome: view.outcome,
    lines: spec,
  });
}

/** How much it can do: the ladder, and the ridge where feed was swept. */
export function ladderPart(context: Context): Html {
  const { grid, table, best, axes, source } = context;
  const climb = ladderWith(best.scenario, source.beside);
  const ladder = take(context, stillOf('ladder', climb));
  const ridge = grid && axes && someRun(table) ? ridgeOf(table, grid, axes[0]) : undefined;
  return html`<section id="ladder"><h2>How much can it do?</h2>${ladder}${ridge ? take(context, stillOf('ridge', ridge)) : undefined}</section>`;
}

/** Whether any point of the sweep runs: without one there is nothing to draw but the choked region. */
function someRun({ reason, points }: SweepTable): boolean {
  for (let row = 0; row < points; row++) if (Number.isNaN(reason[row]!)) return true;
  return false;
}

/** One quantity over the two factors for every wheel; drawn anew by the window's script, so not among the stills. */
export function surfacesPart(context: Context): Html | undefined {
  const { grid, table, best, axes, quantity } = context;
  if (!grid || !axes || quantity === undefined || !someRun(table)) return undefined;
  const wheels = grid.factors.find(({ path, kind }) => path === 'wheel' && kind === 'name');
  const at: Position = positionOf(table, best.scenario);
  const names = wheels ? (wheels.levels as readonly string[]) : [undefined];
  const levels = levelsOf(quantityOf(table, quantity));
  const planes = names.map((wheel) => ({
    name: label(wheel ?? best.scenario.settings.wheel),
    window: sweepWindow(table, grid, axes, wheel === undefined ? at : { ...at, wheel }, quantity, levels),
  }));
  const [x, y] = axes.map((path) => table.factors.find((factor) => factor.path === path)!.measure);
  const input = { planes, x, y, quantity: quantityOf(table, quantity).measure };
  const still = stillOf('surfaces', input, { width: WHOLE_WIDTH, title: false });
  return html`<section id="surfaces"><h2>Response surfaces</h2>${offer(context, still)}${RELIEF}</section>`;
}

/** The place of the surface in three dimensions, filled when asked for. */
const RELIEF = html`<div class="on-request"><button type="button" id="show-relief" aria-expanded="false" aria-controls="relief" hidden>The pinned wheel in three dimensions</button>
<div id="relief" hidden></div></div>`;

/** Main effects and sensitivity indices. */
export function mattersPart(context: Context): Html | undefined {
  const { source, table, quantity, best } = context;
  if (quantity === undefined || source.rows.count < 3 || !someRun(table)) return undefined;
  const limiting = limitingQuantity(best.scenario, best.standing);
  const of = table.quantities.some((each) => each.of === limiting) ? limiting : quantity;
  const { effects, indices } = mattersOf(source.stored, source.rows, table, of);
  return html`<section id="matters"><h2>What matters</h2>
${take(context, stillOf('effects', effects, { width: WHOLE_WIDTH }))}
${indices ? take(context, stillOf('indices', indices)) : undefined}</section>`;
}

/** Every number in use, and which moves the answer most. */
export function assumptionsPart(context: Context): Html {
  const input = swayView(context.best.scenario);
  const sway = stillOf('spans', input, { id: 'sway', title: 'Which of them moves the answer most' });
  return assumptionsSection(context.best.scenario, take(context, sway));
}

/** Scenario, version, hash, design, date. */
export function madePart({ source }: Context): Html {
  const { study, hash, version, size } = source.stored;
  const factors = study.plan.factors.map(({ path }) => path).join(', ');
  const again =
    'points computed for this page need not agree with those stored; sweep again into another OUT';
  const other = otherVersion('The sweep was computed', version, source.version ?? version, again);
  return madeSection({
    program: `grindloop ${version}`,
    ...(other === undefined ? {} : { note: other }),
    hash,
    date: source.date,
    design: `${study.plan.design} over ${factors}: ${size} points`,
    scenarioText: study.scenario.text,
  });
}
