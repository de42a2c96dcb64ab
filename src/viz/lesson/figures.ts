import type { FigureOffer } from '../figures/figure-offer.ts';
import { figureId, startOf } from './readings-panel.ts';
import type { Lesson } from './step.ts';
import { STEPS } from './steps.ts';

/** The lesson's figures where its sliders start, named by their steps. */
export function lessonFigures(lesson: Lesson): FigureOffer {
  const figures = STEPS.flatMap((step) =>
    step
      .show(lesson, startOf(step.sliders(lesson)))
      .figures.map((each, index) => ({ id: figureId(step.id, index), title: step.title, ...each })),
  );
  return { figures, source: 'Mill and powder are invented; every number is the model’s.' };
}
