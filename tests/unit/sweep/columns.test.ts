import { expect, test } from 'vitest';
import { toCase } from '../../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { judge } from '../../../src/scenario/outcome/spec-result.ts';
import type { Factor } from '../../../src/scenario/scenario.ts';
import { toShown } from '../../../src/scenario/units/display.ts';
import { columnHead, distinctHeads } from '../../../src/sweep/study/column-name.ts';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import { scenarioAt } from '../../../src/sweep/study/point-case.ts';
import {
  CHOSEN_HEIGHT,
  FACTORS,
  FEED_RATE,
  PILOT_SCENARIO,
  pilotStudy,
  WHEEL,
} from '../../workers/sweep/pilot.ts';

test('heads carry name and unit', () => {
  expect(columnHead('wheel.geometry.height', 'mm')).toBe('wheel_geometry_height_mm');
  expect(columnHead('feedRate', 'kg/h')).toBe('feedRate_kg_per_h');
  expect(columnHead('material.heatCapacity', 'J/(kg K)')).toBe('material_heatCapacity_J_per_kg_K');
  expect(columnHead('air.temperature', 'degC')).toBe('air_temperature_C');
  expect(columnHead('surface', 'm^2/kg')).toBe('surface_m2_per_kg');
  expect(columnHead('wheel', '1')).toBe('wheel');
  expect(distinctHeads(['a', 'A', 'b', 'a'])).toEqual(['a', 'A_2', 'b', 'a_3']);
});

test('a table holds factors, status, settings, quantities and margins, in that order', () => {
  const { columns } = compileStudy(pilotStudy({ design: 'grid', factors: FACTORS }, ['x95', 'feedAtChoke']));
  expect(columns.map(({ name }) => name)).toEqual([
    ...['rotorSpeed_rpm', 'wheelSpeed_rpm', 'wheel', 'feedRate_kg_per_h', 'wheel_geometry_height_mm'],
    ...['status', 'reason', 'airFlow_m3_per_h', 'x95_um', 'feedAtChoke_kg_per_h', 'passing_75_um_pct'],
    ...['margin_passing_75_um_pct', 'margin_motorLoad_pct', 'meetsSpec'],
  ]);
});

const QUANTITIES = [
  'x10',
  'x50',
  'x95',
  'passes',
  'motorLoad',
  'outletTemperature',
  'feedAtChoke',
  'feedMargin',
];

test('every row is what the model says of that point alone', () => {
  const melt: Factor = {
    kind: 'number',
    path: 'material.density',
    from: 1400,
    to: 1700,
    scale: 'linear',
    integer: false,
    shownIn: 'kg/m^3',
  };
  const study = pilotStudy(
    { design: 'sobol', factors: [...FACTORS, melt], points: 200, seed: 4 },
    QUANTITIES,
  );
  const compiled = compileStudy(study);
  const block = compiled.evaluate({ first: 0, count: 200 });
  const at = new Float64Array(6);
  let choked = 0;
  for (let i = 0; i < 200; i++) {
    const value = (head: string): number =>
      block.values[compiled.columns.findIndex(({ name }) => name === head) * 200 + i]!;
    compiled.design.fill(i, at);
    const scenario = scenarioAt(PILOT_SCENARIO, study.plan.factors, at);
    const point = solvePoint(toCase(scenario));
    expect(value('status')).toBe(point.status === 'steady' ? 0 : 1);
    if (point.status === 'choked') {
      choked++;
      expect(value('x50_um')).toBeNaN();
      expect(value('meetsSpec')).toBe(0);
      expect(value('feedAtChoke_kg_per_h')).toBe(toShown(point.state.feedAtChoke, 'kg/h'));
      continue;
    }
    for (const name of QUANTITIES) {
      const quantity = quantityNamed(name)!;
      expect(value(quantity.column), `${name} of ${i}`).toBe(toShown(quantity.of(point), quantity.shownIn));
    }
    const lines = judge(scenario.spec, point);
    expect(value('margin_motorLoad_pct')).toBe(lines[1]!.margin);
    expect(value('meetsSpec')).toBe(lines.every(({ met }) => met) ? 1 : 0);
  }
  expect(choked).toBeGreaterThan(5);
  expect(choked).toBeLessThan(150);
});

test('a point is the same whatever was evaluated before it', () => {
  const study = pilotStudy({ design: 'grid', factors: [FEED_RATE, WHEEL, CHOSEN_HEIGHT] }, QUANTITIES);
  const whole = compileStudy(study).evaluate({ first: 0, count: 27 });
  const { columns, evaluate } = compileStudy(study);
  for (const first of [26, 3, 17, 0]) {
    const { values } = evaluate({ first, count: 1 });
    expect([...values]).toEqual(columns.map((_, c) => whole.values[c * 27 + first]!));
  }
});

test('size curves are kept at the class edges, none for choked points', () => {
  const study = { ...pilotStudy({ design: 'grid', factors: [FEED_RATE] }), curves: true };
  const { curveSizes, evaluate } = compileStudy(study);
  const point = solvePoint(toCase(scenarioAt(PILOT_SCENARIO, [FEED_RATE], Float64Array.of(300 / 3600))));
  if (point.status === 'choked') throw new Error('the pilot case chokes');
  expect(curveSizes).toEqual([...point.curve.edges.subarray(1)]);
  const { curves } = evaluate({ first: 1, count: 1 });
  expect([...curves!]).toEqual([...point.curve.undersize.subarray(1)]);
});

test('a shaft beyond its maximum speed never meets the spec', () => {
  const loose = PILOT_SCENARIO.spec.slice(1);
  const slow = { ...PILOT_SCENARIO.machine.rotor, maxSpeed: 5000 / 60 };
  const at = (scenario: typeof PILOT_SCENARIO): number => {
    const study = { ...pilotStudy({ design: 'grid', factors: [FEED_RATE] }, ['x50']), scenario };
    const { columns, evaluate } = compileStudy(study);
    return evaluate({ first: 0, count: 1 }).values[columns.length - 1]!;
  };
  expect(at({ ...PILOT_SCENARIO, spec: loose })).toBe(1);
  const machine = { ...PILOT_SCENARIO.machine, rotor: slow };
  expect(at({ ...PILOT_SCENARIO, machine, spec: loose })).toBe(0);
});
