import { loadScenario } from '../../src/scenario/load.ts';
import { findSettings } from '../../src/search/find/find.ts';
import { searchSpace } from '../../src/search/find/space.ts';
import { BRUTE_CASES, bruteForce } from '../reference/brute-force.ts';
import { reachFigures, reachOfFind } from './find-reach.ts';

/**
 * Time of `find` and of a fine grid [s] on each scenario, how far the goal found stands above the best of the grid, and how
 * often settings found at a confidence meet the spec.
 *
 * @param calibrations hidden truths the last is asked of
 */
export async function benchFind(calibrations: number): Promise<Record<string, number>> {
  const figures: Record<string, number> = {};
  for (const [i, [name, steps, set]] of BRUTE_CASES.entries()) {
    const scenario = await loadScenario(`scenarios/${name}.yaml`, { set: [...set] });
    const space = searchSpace(scenario);
    if (typeof space === 'string') throw new Error(space);
    const start = performance.now();
    const found = findSettings(scenario, space);
    const middle = performance.now();
    const grid = bruteForce(scenario, space, 2 * steps - 1);
    const key = `find_${i + 1}_${name.replace('-', '_')}`;
    figures[`${key}_s`] = (middle - start) / 1e3;
    figures[`${key}_grid_s`] = (performance.now() - middle) / 1e3;
    figures[`${key}_above_grid`] = (found.best.merit.goal - grid.goal) / Math.abs(grid.goal);
  }
  return { ...figures, ...reachFigures(await reachOfFind(calibrations)) };
}
