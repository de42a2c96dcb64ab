import { carriedWords } from '../../answers/carried-points.ts';
import { bandsView } from '../../answers/limit-bands.ts';
import { planeView } from '../../answers/plane.ts';
import { quantityOf } from '../../answers/sweep-table.ts';
import {
  type Bands,
  banded,
  commonReason,
  levelsOf,
  operatingWindow,
  planeOf,
} from '../../answers/sweep-window.ts';
import type { PlaneFields } from '../../search/window/window.ts';
import { type Html, html } from '../html/template.ts';
import { type Context, marksOf, offer, planeAxis, positionOf, wordsOf } from './context.ts';
import { marksOnPlane } from './marks-on-plane.ts';
import { stillOf } from './point-figures.ts';
import { windowSection } from './sections/bench.ts';

/** The window's section with what its script goes on from. */
export interface WindowPart {
  readonly section: Html;
  /** Present where the plane was solved because the sweep's points are scattered. */
  readonly plane?: PlaneFields;
  readonly bands: Bands;
}

const PLANE_NODES = 25;

/** The operating window at the recommended settings; undefined where fewer than two numbers were swept. */
export function windowPart(context: Context): WindowPart | undefined {
  const { table, grid, best, source, axes, quantity } = context;
  if (!axes || quantity === undefined) return undefined;
  const at = positionOf(table, best.scenario);
  const [x, y] = axes.map((path) => planeAxis(table, path, PLANE_NODES));
  const bands = bandsView(best.scenario, x!, y!);
  const plane = grid ? planeOf(table, grid, axes, at, quantity) : planeView(best.scenario, x!, y!, quantity);
  const shown = quantityOf(table, quantity);
  const [xFactor, yFactor] = axes.map((path) => table.factors.find((factor) => factor.path === path)!);
  const measures = new Map(table.factors.map(({ path, measure }) => [path, measure]));
  const marks = marksOnPlane(marksOf(context), axes, at, measures);
  const input = {
    window: operatingWindow(best.scenario.calibration ? banded(plane, bands) : plane, levelsOf(shown)),
    x: xFactor!.measure,
    y: yFactor!.measure,
    quantity: shown.measure,
    words: wordsOf(table),
    chokedBecause: commonReason(table),
    marks,
  };
  const count = (source.ranking ?? source).rows.count;
  const { size } = source.stored;
  const missing =
    count < size
      ? html`<p class="notice">${count} of ${size} points are in the store; the rest is still to be run.</p>`
      : undefined;
  const carried = source.ranking
    ? html`<p class="state">${carriedWords(source.rows.count, count, source.stored.study.plan.design)}</p>`
    : undefined;
  const section = windowSection(
    offer(context, stillOf('window', input, { title: false })),
    html`${missing}${carried}`,
  );
  return { section, bands, ...(grid ? {} : { plane }) };
}
