import type { Measure } from '../../answers/measure.ts';
import { quantityOf, type SweepTable } from '../../answers/sweep-table.ts';
import { planeOf, sweepWindow } from '../../answers/sweep-window.ts';
import { label } from '../../answers/text.ts';
import type { LevelGrid, Position } from '../../search/window/levels.ts';
import { surfacesFigure } from '../figures/surfaces.ts';
import type { Stage } from './stage.ts';
import { Relief } from './surface-3d.ts';
import type { Shown } from './window-choices.ts';

/** The response surfaces, a wheel each, and on request the pinned wheel's in three dimensions. */
export class SurfacesView {
  private readonly stage: Stage;
  private readonly table: SweepTable;
  private readonly grid: LevelGrid;
  private readonly relief = new Relief();

  constructor(stage: Stage, table: SweepTable, grid: LevelGrid) {
    this.stage = stage;
    this.table = table;
    this.grid = grid;
  }

  /** Slices of the sweep at a position; the levels colour all of them alike. */
  show(at: Position, { x, y, quantity }: Shown, levels: readonly number[]): void {
    const { grid, table, stage } = this;
    if (!stage.has('surfaces')) return;
    const wheels = grid.factors.find(({ path, kind }) => path === 'wheel' && kind === 'name');
    const names = wheels ? (wheels.levels as readonly string[]) : [undefined];
    const measures = {
      x: this.measureOf(x),
      y: this.measureOf(y),
      quantity: quantityOf(table, quantity).measure,
    };
    const placed = (wheel: string | undefined) => (wheel === undefined ? at : { ...at, wheel });
    stage.show('surfaces', (frame) => {
      const planes = names.map((name) => ({
        name: name === undefined ? '' : label(name),
        window: sweepWindow(table, grid, [x, y], placed(name), quantity, levels),
      }));
      return surfacesFigure.draw({ planes, ...measures }, frame);
    });
    const plane = planeOf(table, grid, [x, y], at, quantity);
    this.relief.show({ plane, ...measures, levels, theme: stage.theme });
  }

  private measureOf(path: string): Measure {
    return this.table.factors.find((factor) => factor.path === path)!.measure;
  }
}
