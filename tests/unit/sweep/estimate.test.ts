import { expect, test } from 'vitest';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import { estimate, timePerPoint } from '../../../src/sweep/workers/time-estimate.ts';
import { FACTORS, pilotStudy } from '../../workers/sweep/pilot.ts';

const compiled = compileStudy(pilotStudy({ design: 'sobol', factors: FACTORS, points: 1000, seed: 1 }));

/** A clock on which every point takes a hundredth of a second. */
function steadyStudy() {
  let now = 0;
  const evaluate = (range: { first: number; count: number }) => {
    now += 0.01;
    if (range.first % 3 === 0) throw new Error('a point at fault');
    return { ...range, values: new Float64Array(0) };
  };
  return { study: { ...compiled, evaluate }, clock: () => now };
}

test('the time of a point is found from a few of them, faults and all', () => {
  const { study, clock } = steadyStudy();
  expect(timePerPoint(study, clock)).toBeCloseTo(0.01, 10);
});

test('time falls with threads up to the cores, size follows points and columns', () => {
  const at = (threads: number, points = 1e6) => {
    const { study, clock } = steadyStudy();
    return estimate(study, points, threads, 4, clock);
  };
  expect(at(1).time / at(2).time).toBeCloseTo(2, 6);
  expect(at(8).time).toBe(at(4).time);
  expect(at(1, 2e6).time / at(1).time).toBeCloseTo(2, 6);
  expect((at(1, 2e6).size - at(1).size) / (at(1, 3e6).size - at(1, 2e6).size)).toBeCloseTo(1, 12);
  expect(at(1).size).toBeGreaterThan(1e6 * compiled.columns.length);
});
