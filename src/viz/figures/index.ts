import type { Figure } from '../drawing.ts';
import { balanceFigure } from './balance.ts';
import { capacityFigure } from './capacity.ts';
import { chokeFigure } from './choke.ts';
import { courseFigure } from './course.ts';
import { dotsFigure } from './dots.ts';
import { effectsFigure } from './effects.ts';
import { gradeFigure } from './grade.ts';
import { gradePlanesFigure } from './grade-planes.ts';
import { indicesFigure } from './indices.ts';
import { ladderFigure } from './ladder.ts';
import { linesFigure } from './lines.ts';
import { ridgeFigure } from './ridge.ts';
import { runsFigure } from './runs.ts';
import { sizeCurveFigure } from './size-curve.ts';
import { surfacesFigure } from './surfaces.ts';
import { spansFigure } from './tornado.ts';
import { windowFigure } from './window.ts';

/** Every figure, one line each. */
export const FIGURES = {
  window: windowFigure,
  'size-curve': sizeCurveFigure,
  runs: runsFigure,
  'grade-efficiency': gradeFigure,
  balance: balanceFigure,
  choke: chokeFigure,
  ladder: ladderFigure,
  ridge: ridgeFigure,
  capacity: capacityFigure,
  surfaces: surfacesFigure,
  effects: effectsFigure,
  indices: indicesFigure,
  spans: spansFigure,
  lines: linesFigure,
  dots: dotsFigure,
  course: courseFigure,
  'grade-planes': gradePlanesFigure,
} as const;

export type FigureName = keyof typeof FIGURES;

/** What a figure takes. */
export type InputOf<Name extends FigureName> =
  (typeof FIGURES)[Name] extends Figure<infer Input> ? Input : never;
