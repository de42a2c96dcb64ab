import type { MeasuredLine } from '../../answers/measured-trials.ts';
import type { PointView } from '../../answers/point-view.ts';
import type { Frame } from '../drawing.ts';
import type { OfferedFigure } from '../figures/figure-offer.ts';
import { FIGURES, type FigureName } from '../figures/index.ts';
import { figureHtml } from '../html/figure.ts';
import type { Html } from '../html/template.ts';

/** Width drawings are made for before the page knows better [px]. */
const STILL_WIDTH = 760;
const HALF_WIDTH = 370;

/** A figure drawn into the page, its data for the page's script, and the same as it can be written as a file. */
export interface Still {
  readonly html: Html;
  readonly still: { readonly id: string; readonly figure: FigureName; readonly input: unknown };
  readonly offered: OfferedFigure;
}

/** Draws a figure of the registry into the page. */
export function stillOf(
  figure: FigureName,
  input: unknown,
  { id = figure, title, width = STILL_WIDTH }: { id?: string; title?: string | false; width?: number } = {},
): Still {
  const known = FIGURES[figure];
  const draw = (frame: Frame) => known.draw(input as never, frame);
  return {
    html: figureHtml(id, title === false ? undefined : (title ?? known.title), draw, width),
    still: { id, figure, input },
    offered: { id, title: title || known.title, figure, input },
  };
}

/** The figures of one operating point. */
export function pointFigures(view: PointView, measured: readonly MeasuredLine[]): Still[] {
  const choke = stillOf('choke', view.choke, { width: HALF_WIDTH });
  if (!view.curves) return [choke];
  const { product, behind, gates, grade, balance } = view.curves;
  const curve = stillOf('size-curve', { product, behind, gates, measured });
  return [
    curve,
    stillOf('grade-efficiency', { lines: grade }, { width: HALF_WIDTH }),
    stillOf('balance', balance, { width: HALF_WIDTH }),
    choke,
  ];
}
