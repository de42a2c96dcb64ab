import { resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { wheelFindings as findings } from '../../../../src/answers/compare/wheel-words.ts';
import { loadScenario } from '../../../../src/scenario/load.ts';
import { toCase, withValue } from '../../../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../../../src/scenario/scenario.ts';
import { overlap } from '../../../../src/search/compare/band.ts';
import { compareWheels } from '../../../../src/search/compare/comparison.ts';
import { geometryChanges } from '../../../../src/search/compare/geometry-changes.ts';
import { atSpeed, matchWheel } from '../../../../src/search/compare/match.ts';

let scenario: Scenario;
beforeAll(async () => {
  scenario = await loadScenario(resolve(import.meta.dirname, '../../../../scenarios/erythritol.yaml'));
});

const x95 = (each: Scenario): number => {
  const point = solvePoint(toCase(each));
  return point.status === 'steady' ? quantityNamed('x95')!.of(point) : Number.NaN;
};

test('a matched wheel has the fineness asked, and 1 % of speed would spoil it', () => {
  for (const wheel of Object.keys(scenario.machine.wheels)) {
    const matched = matchWheel(scenario, wheel, { quantity: 'x95', value: 65e-6 });
    if (!matched.reached) throw new Error(`${wheel} was to reach 65 µm`);
    expect(Math.abs(x95(matched.scenario) / 65e-6 - 1)).toBeLessThan(1e-6);
    const off = x95(atSpeed(scenario, wheel, matched.speed * 1.01));
    expect(Math.abs(off / 65e-6 - 1)).toBeGreaterThan(1e-3);
  }
});

test('the wheel matched to its own fineness turns at its own speed', () => {
  const { wheels } = compareWheels(scenario);
  const own = wheels.find(({ name }) => name === scenario.settings.wheel)!;
  expect(own.matched.reached && Math.abs(own.matched.speed / (2000 / 60) - 1)).toBeLessThan(1e-6);
});

test('equal sharpness, bypass and leakage give equal products, and the words say so', () => {
  const comparison = compareWheels(scenario);
  expect(comparison.unequal).toEqual([]);
  const medians = comparison.wheels.map(({ matched }) =>
    matched.reached ? quantityNamed('x50')!.of(matched.solved) : Number.NaN,
  );
  // the air of each wheel is a little warmer or cooler, which is all that is left
  expect(Math.max(...medians) / Math.min(...medians) - 1).toBeLessThan(1e-3);
  expect(findings(scenario, comparison)[0]).toContain('all wheels give the same product');
});

test('a wheel given another sharpness is said to differ', () => {
  const sharper = withValue(scenario, 'machine.wheels.long-leaning.coefficients.sharpness', 0.72);
  const comparison = compareWheels(sharper);
  expect(comparison.unequal).toEqual(['sharpness']);
  expect(findings(sharper, comparison)[0]).toContain('not given equal sharpness');
});

test('a fineness no wheel reaches is a row with the nearest', () => {
  const comparison = compareWheels(scenario, { value: 5e-6 });
  expect(comparison.wheels).toHaveLength(3);
  expect(comparison.wheels.every(({ matched }) => !matched.reached)).toBe(true);
  expect(findings(scenario, comparison)[0]).toMatch(/^No wheel reaches x95 5 µm/);
});

test('a taller wheel draws in slower and cuts finer, as 10 % more height shows', () => {
  const changes = geometryChanges(scenario);
  expect(changes.find(({ key }) => key === 'height')!.cut).toBeLessThan(-0.02);
  expect(changes.find(({ key }) => key === 'thickness')!.cut).toBeGreaterThan(0);
});

test('bands overlap where they share a speed', () => {
  expect(overlap({ low: 1, high: 2 }, { low: 2, high: 3 })).toBe(true);
  expect(overlap({ low: 1, high: 2 }, { low: 2.01, high: 3 })).toBe(false);
});
