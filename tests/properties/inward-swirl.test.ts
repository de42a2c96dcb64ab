import { expect, test } from 'vitest';
import { toCase } from '../../src/scenario/operating-point.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import { demo } from '../browser/sweep-page.ts';

test('a wheel whose inflow swirls against it at some loadings, and so cuts nothing there, is solved to an end', async () => {
  const wheel = 'machine.wheels.medium-leaning';
  for (const radialFactor of [1, 3, 9.415, 20]) {
    for (const height of ['0.7415 mm', '1 mm', '3 mm', '20 mm']) {
      const scenario = await demo([
        `${wheel}.geometry.height=${height}`,
        `${wheel}.coefficients.radialFactor=${radialFactor}`,
      ]);
      const point = solvePoint(toCase(scenario));
      // past the inlet nothing is known but finite numbers
      expect(point.state.feedAtChoke).toBeGreaterThan(0);
      expect(point.state.feedAtChoke).toBeLessThan(Number.POSITIVE_INFINITY);
    }
  }
}, 20_000);
