import { beforeAll, describe, expect, test } from 'vitest';
import { wheelFindings as findings } from '../../src/answers/compare/wheel-words.ts';
import { meanFreePath } from '../../src/model/air.ts';
import { dragCoefficient, dragShape, slipCorrection } from '../../src/model/drag.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { toCase, valueAt, withValue } from '../../src/scenario/operating-point.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compareWheels } from '../../src/search/compare/comparison.ts';
import { matchWheel } from '../../src/search/compare/match.ts';
import { comparisonPage } from '../../src/viz/compare/page.ts';
import type { GradeInput } from '../../src/viz/figures/grade.ts';

const DEMO = 'scenarios/erythritol.yaml';
/** Powder that takes up any heat, so that every wheel sorts in the same air. */
const COLD = 1e12;

let scenario: Scenario;
let cold: Scenario;
beforeAll(async () => {
  scenario = await loadScenario(DEMO);
  cold = withValue(scenario, 'material.heatCapacity', COLD);
});

function steady(at: Scenario) {
  const point = solvePoint(toCase(at));
  if (point.status === 'choked') throw new Error('was not to choke');
  return point;
}

describe('geometry acts through the cut alone', () => {
  const curves = (at: Scenario) =>
    Object.keys(at.machine.wheels).map((wheel) => {
      const matched = matchWheel(at, wheel, { quantity: 'x95', value: 65e-6 });
      if (!matched.reached) throw new Error(`${wheel} was to reach 65 µm`);
      return matched.solved;
    });
  const apart = (at: Scenario) => {
    const [first, ...others] = curves(at);
    return Math.max(
      ...others.flatMap(({ curve, state }) => [
        ...curve.undersize.map((share, i) => Math.abs(share - first!.curve.undersize[i]!)),
        Math.abs(state.circulating / first!.state.circulating - 1),
      ]),
    );
  };

  test('wheels of equal sharpness, bypass and leakage at equal fineness give one product, to 1e-9', () => {
    expect(apart(cold)).toBeLessThan(1e-9);
  });

  test('what is left in a mill that warms is the heat of their own drives', () => {
    const left = apart(scenario);
    expect(left).toBeGreaterThan(1e-6);
    expect(left).toBeLessThan(1e-2);
  });

  test('one wheel 1 % sharper is another product', () => {
    const sharper = withValue(cold, 'machine.wheels.long-leaning.coefficients.sharpness', 0.606);
    expect(apart(sharper)).toBeGreaterThan(1e-4);
  });
});

describe('slopes of a radial wheel', () => {
  /** d ln x_c from eq. 16–18 for changes of inflow g, radius r and swirl p: (2g + r − 2p + e g)/(1 + s − e) (`derived`). */
  const predicted = (at: Scenario) => {
    const { state, case: c } = steady(at);
    const { diameter, vanes, thickness } = c.wheel.geometry;
    const { airDensity, viscosity, temperature, radialVelocity } = state.conditions;
    const path = meanFreePath(temperature, c.air.pressure, viscosity);
    const x = state.components[0]!.cutSize;
    const free = Math.PI * diameter - vanes * thickness;
    const shape = dragShape(c.components[0]!.material.sphericity);
    const h = 1e-5;
    const logSlope = (of: (at: number) => number, where: number) =>
      Math.log(of(where * (1 + h)) / of(where * (1 - h))) / (2 * h);
    const e = logSlope((re) => dragCoefficient(shape, re), (airDensity * radialVelocity * x) / viscosity);
    const s = logSlope((size) => slipCorrection(size, path), x);
    const slope = (g: number, r: number, p: number) => (2 * g + r - 2 * p + e * g) / (1 + s - e);
    const closed = (vanes * thickness) / free;
    const swirl = (0.7 * vanes ** -0.7) / (1 - vanes ** -0.7);
    return {
      diameter: slope(-(Math.PI * diameter) / free, 1, 1),
      height: slope(-1, 0, 0),
      vanes: slope(closed, 0, swirl),
      thickness: slope(closed, 0, 0),
    };
  };

  test.each(['diameter', 'height', 'vanes', 'thickness'] as const)(
    '%s: the cut as its balance says',
    (key) => {
      const radial = withValue(cold, 'wheel', 'medium-radial');
      const path = `machine.wheels.medium-radial.geometry.${key}`;
      const cut = (factor: number) =>
        steady(withValue(radial, path, (valueAt(radial, path) as number) * factor)).state.components[0]!
          .cutSize;
      // a step of 1 % to either side leaves its square
      const found = Math.log(cut(1.01) / cut(0.99)) / 0.02;
      expect(Math.abs(found - predicted(radial)[key])).toBeLessThan(3e-4);
    },
  );
});

describe('a wheel with a measured curve', () => {
  const MEASURED =
    '{ from: long-leaning, efficiency: logistic, coefficients: { sharpness: 0.5, bypass: 0.08 } }';

  test('stands beside the others with its own curve, and the words say what differs', async () => {
    const at = await loadScenario(DEMO, { set: [`machine.wheels.measured=${MEASURED}`] });
    const comparison = compareWheels(at);
    expect(comparison.unequal).toEqual(['sharpness', 'bypass', 'efficiency law']);
    const [first, ...more] = findings(at, comparison);
    expect(first).toContain('not given equal sharpness, bypass and efficiency law');
    expect(more.join(' ')).toContain('are inputs, not predictions');
    const { offer } = comparisonPage(at, comparison, { version: 'of a test', date: '2026-01-01' });
    const { lines } = offer.figures.find(({ id }) => id === 'grades')!.input as GradeInput;
    const own = lines.find(({ name }) => name === 'measured')!;
    const power = (2 * Math.log(3)) / Math.log(1 / own.sharpness);
    const { leakage } = at.machine.wheels.measured!.coefficients;
    for (let i = 0; i < own.sizes.length; i++) {
      const passed = 1 / (1 + (own.sizes[i]! / own.cut) ** power);
      const back = 1 - (leakage + (1 - leakage) * (1 - own.bypass) * passed);
      expect(Math.abs(own.toCoarse[i]! - back)).toBeLessThan(2e-3);
    }
  });
});
