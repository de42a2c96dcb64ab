import { valueAs } from '../scenario/operating-point.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { toShown } from '../scenario/units/display.ts';
import type { LevelGrid } from '../search/window/levels.ts';
import type { PlaneAxis } from './plane.ts';
import { endsOf, type SweepTable } from './sweep-table.ts';
import { axesAmong, firstAxes } from './sweep-window.ts';
import { tidy } from './text.ts';

/** Where the factors stand in a scenario, in the units shown. */
export function positionOf(table: SweepTable, scenario: Scenario): Record<string, number | string> {
  return Object.fromEntries(
    table.factors.map(({ path, shownIn, names, as }) => {
      const value = valueAs(scenario, path, as);
      return [path, names || typeof value !== 'number' ? String(value) : tidy(toShown(value, shownIn))];
    }),
  );
}

/** Axes of the window: wheel speed against rotor speed, else the first two numbers of the sweep. */
export function axesOf(
  table: SweepTable,
  grid: LevelGrid | undefined,
): readonly [string, string] | undefined {
  if (grid) return firstAxes(table, grid);
  return axesAmong(table.factors.filter(({ names }) => !names).map(({ path }) => path));
}

/** An axis over the range a factor was swept. */
export function planeAxis(table: SweepTable, path: string, nodes: number): PlaneAxis {
  const { values, shownIn, as } = table.factors.find((factor) => factor.path === path)!;
  const [low, high] = endsOf(values);
  const levels = Float64Array.from({ length: nodes }, (_, i) => low + ((high - low) * i) / (nodes - 1));
  return { path, shownIn, levels, ...(as ? { as } : {}) };
}
