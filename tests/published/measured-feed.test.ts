import { describe, test } from 'vitest';
import type { Table } from '../../src/model/parameters.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { close } from '../close.ts';

/** Size at a share by straight lines in ln x between the rows, as the instrument's own software reports it. */
function sizeAt(points: Table, share: number): number {
  const i = points.findIndex(([, q]) => q >= share);
  const [[x0, q0], [x1, q1]] = [points[i - 1]!, points[i]!];
  return x0 * (x1 / x0) ** ((share - q0) / (q1 - q0));
}

describe('a measured laser record as feed (B. Marwick, Particle-size-analysis-Putslaagte-1, CC0)', () => {
  test('is read to the instrument’s own d10, d50 and d90 within 0.1 %', async () => {
    const { components } = await loadScenario('scenarios/mineral-filler.yaml');
    const points = components[0]!.feed.points as Table;
    close(sizeAt(points, 0.1), 10.29624e-6, 1e-3);
    close(sizeAt(points, 0.5), 93.96205e-6, 1e-3);
    close(sizeAt(points, 0.9), 216.01678e-6, 1e-3);
  });
});
