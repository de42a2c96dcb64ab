import { FIGURES } from '../figures/index.ts';
import type { ReportData } from '../report/report-data.ts';
import type { Stage } from './stage.ts';

/** Draws the figures whose data came with the page, at the width there is. */
export function startStill(stage: Stage, data: ReportData): void {
  for (const { id, figure, input } of data.stills) {
    const { draw } = FIGURES[figure];
    stage.show(id, (frame) => draw(input as never, frame));
  }
}
