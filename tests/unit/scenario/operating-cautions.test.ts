import { expect, test } from 'vitest';
import type { Case } from '../../../src/model/case.ts';
import type { Conditions } from '../../../src/model/loop/state.ts';
import { cautionsAt, weakHits, wheelMotorLoad } from '../../../src/scenario/outcome/operating-cautions.ts';
import { type Point, solvePoint } from '../../../src/scenario/outcome/solved.ts';
import { isBetter, meritOf } from '../../../src/search/find/objective.ts';
import { type Change, changed, PILOT, rpm } from '../../cases.ts';
import { close } from '../../close.ts';

const codes = (c: Case, point: Point = solvePoint(c)) => cautionsAt(c, point).map(({ code }) => code);
const message = (c: Case, point: Point = solvePoint(c)) => cautionsAt(c, point)[0]!.message;

/** The pilot's state with some of its conditions put beside a threshold. */
function doctored(conditions: Partial<Conditions>, cutSize?: number): Point {
  const point = solvePoint(PILOT);
  if (point.status !== 'steady') throw new Error('choked');
  const { state } = point;
  const components = state.components.map((one) => ({ ...one, cutSize: cutSize ?? one.cutSize }));
  return { ...point, state: { ...state, conditions: { ...state.conditions, ...conditions }, components } };
}

const slow = (wheelSpeed: number): Case =>
  changed(PILOT, {
    settings: { rotorSpeed: 45 / (Math.PI * 0.3), wheelSpeed: wheelSpeed * rpm, feedRate: 20 / 3600 },
  });

test('the pilot gives no caution', () => {
  expect(codes(PILOT)).toEqual([]);
});

test('c/W above the cut, and the rotor speed that mends it', () => {
  const c = slow(4000);
  const point = solvePoint(c);
  expect(codes(c, point)).toContain('grind-limit-above-cut');
  // c/W = 0.025/((0.85 · 45)²/2) = 34.18 µm
  close(weakHits(c, point.state)[0]!.limit, 0.025 / ((0.85 * 45) ** 2 / 2), 1e-12);
  expect(message(c, point)).toContain('break nothing below 34.2 µm, which is above the cut');
  const { cut } = weakHits(c, point.state)[0]!;
  const wanted = (45 / (Math.PI * 0.3)) * 60 * Math.sqrt(34.178e-6 / cut);
  const named = Number(/turn the rotor at (\d+) rpm or faster/.exec(message(c, point))![1]);
  close(named, wanted, 5e-3);
  const { limit } = weakHits(c, point.state)[0]!;
  const at = (cutSize: number) =>
    weakHits(PILOT, doctored({ hitEnergy: 0.025 / limit }, cutSize).state).length;
  expect(at(limit * 1.0001)).toBe(0);
  expect(at(limit * 0.9999)).toBe(1);
});
test('there a faster wheel makes a coarser product, and find does not prefer it', () => {
  const [strong, weak, weaker] = [900, 4000, 6000].map((speed) => {
    const c = slow(speed);
    const point = solvePoint(c);
    const goal = { sense: 'maximise', expression: { kind: 'number', value: speed, shownIn: '1' } } as const;
    return { point, merit: meritOf(c, point, { spec: [], goal: goal as never }) };
  });
  const x97 = (one: typeof strong) => (one!.point.status === 'steady' ? one!.point.curve : undefined);
  expect(x97(weaker)).toBeDefined();
  expect(strong!.merit.weakHits).toBe(false);
  expect(weak!.merit.weakHits).toBe(true);
  expect(weak!.merit.goal).toBeGreaterThan(strong!.merit.goal);
  expect(isBetter(strong!.merit, weak!.merit)).toBe(true);
  expect(isBetter(weak!.merit, strong!.merit)).toBe(false);
  expect(isBetter(weaker!.merit, weak!.merit)).toBe(true);
});
test('outlet above 80 °C, or more than 60 K above the inlet', () => {
  const warm = changed(PILOT, { air: { temperature: 313.15 } });
  expect(codes(warm, doctored({ temperature: 353.14 }))).toEqual([]);
  expect(codes(warm, doctored({ temperature: 353.16 }))).toEqual(['outlet-hot']);
  expect(codes(PILOT, doctored({ temperature: 293.15 + 59.9 }))).toEqual([]);
  expect(codes(PILOT, doctored({ temperature: 293.15 + 60.1 }))).toEqual(['outlet-hot']);
  expect(message(PILOT, doctored({ temperature: 373.15 }))).toMatch(/^outlet air at 100 °C, 80 K above/);
});
test('inflow steeper than 45°, or faster than 20 m/s', () => {
  expect(codes(PILOT, doctored({ radialVelocity: 12, swirlVelocity: 12.01 }))).toEqual([]);
  expect(codes(PILOT, doctored({ radialVelocity: 12, swirlVelocity: 11.99 }))).toEqual(['inflow-steep']);
  expect(codes(PILOT, doctored({ radialVelocity: 19.9, swirlVelocity: 30 }))).toEqual([]);
  expect(codes(PILOT, doctored({ radialVelocity: 20.1, swirlVelocity: 30 }))).toEqual(['inflow-fast']);
  const open = changed(PILOT, { loop: { circuit: 'open' } });
  expect(codes(open, doctored({ radialVelocity: 25, swirlVelocity: 1 }))).toEqual([]);
});
test('a cut above the feed, and one that does not exist', () => {
  const top = 500e-6 * Math.exp(4.7535 * 0.35);
  expect(codes(PILOT, doctored({}, top * 0.999))).toEqual([]);
  expect(codes(PILOT, doctored({}, top * 1.001))).toEqual(['cut-above-feed']);
  expect(message(PILOT, doctored({}, Number.POSITIVE_INFINITY))).not.toMatch(/Infinity|NaN/);
});
test('the wheel shaft against its own motor, else against the mill’s rating', () => {
  const own: Change = { wheel: { ...PILOT.wheel, motor: { power: 3000 } } };
  const c = changed(PILOT, own);
  expect(codes(c, doctored({ wheelPower: 2999 }))).toEqual([]);
  expect(codes(c, doctored({ wheelPower: 3001 }))).toEqual(['wheel-motor']);
  expect(message(c, doctored({ wheelPower: 3300 }))).toMatch(/needs 3.3 kW; its motor delivers 3 kW/);
  expect(codes(PILOT, doctored({ wheelPower: 14999 }))).toEqual([]);
  expect(codes(PILOT, doctored({ wheelPower: 15001 }))).toEqual(['wheel-motor']);
  expect(message(PILOT, doctored({ wheelPower: 30000 }))).toContain('no wheel motor is given');
  close(wheelMotorLoad(c, doctored({ wheelPower: 1500 }).state), 0.5, 1e-14);
  close(wheelMotorLoad(PILOT, doctored({ wheelPower: 1500 }).state), 0.1, 1e-14);
});
test('vapour above a tenth of the inlet pressure, on both sides', () => {
  // saturation at 60 °C is 19.93 kPa (steam tables): 10 % of 101.325 kPa is 50.8 % humidity
  const at = (humidity: number) => changed(PILOT, { air: { temperature: 333.15, humidity } });
  expect(codes(at(0.505), doctored({ temperature: 340 }))).toEqual([]);
  expect(codes(at(0.512), doctored({ temperature: 340 }))).toEqual(['inlet-vapour']);
});
test('water left in the product is named, and only where some is left', () => {
  const wet = changed(PILOT, { loop: { evaporation: 0.1 } });
  const feed = wet.settings.feedRate;
  expect(codes(wet, doctored({ evaporated: 0.1 * feed, waterLeft: 0 }))).toEqual([]);
  const left = doctored({ evaporated: 0.04 * feed, waterLeft: 0.06 * feed });
  expect(codes(wet, left)).toEqual(['evaporation-saturated']);
  expect(message(wet, left)).toContain(
    'of the 10 % water that should evaporate only 4 % does, and 6 % stays',
  );
});
