import { resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { rotorCapacityInput } from '../../../../src/answers/capacity-curves.ts';
import { rotorFindings, rotorTable } from '../../../../src/answers/compare/rotor-comparison.ts';
import { loadScenario } from '../../../../src/scenario/load.ts';
import { toCase } from '../../../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../../../src/scenario/outcome/quantities.ts';
import { solvePoint } from '../../../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../../../src/scenario/scenario.ts';
import { bandOver } from '../../../../src/search/compare/band.ts';
import { type Comparison, compareWheels } from '../../../../src/search/compare/comparison.ts';
import { atSpeed } from '../../../../src/search/compare/match.ts';
import { compareRotors, energyOf, withRotor } from '../../../../src/search/compare/rotors.ts';
import { comparisonPage } from '../../../../src/viz/compare/page.ts';

/** The page sweeps every wheel and rotor for its curve [ms]. */
const PATIENT = 60_000;

const DEMO = resolve(import.meta.dirname, '../../../../scenarios/erythritol.yaml');
const TARGET = { quantity: 'x95', value: 65e-6 } as const;

let scenario: Scenario;
let comparison: Comparison;
beforeAll(async () => {
  scenario = await loadScenario(DEMO, {
    set: [
      'machine.rotors.dense={ geometry: { count: 24 } }',
      'machine.rotors.slow={ maxSpeed: 3000 rpm }',
      'machine.rotors.thirsty={ coefficients: { powerFactor: 3 } }',
    ],
  });
  comparison = compareWheels(scenario, { value: TARGET.value });
}, PATIENT);

const x95 = (at: Scenario): number => {
  const point = solvePoint(toCase(at));
  return point.status === 'steady' ? quantityNamed('x95')!.of(point) : Number.NaN;
};
const named = (name: string) => comparison.rotors!.find((each) => each.name === name)!;

test('a rotor named is the machine’s own but for what it says', () => {
  const { rotor, rotors } = scenario.machine;
  expect(rotors!.dense).toEqual({ ...rotor, geometry: { ...rotor.geometry, count: 24 } });
});

test('every rotor that reaches the fineness has it, and 1 % of wheel speed would spoil it', () => {
  for (const name of ['machine’s own', 'dense', 'thirsty']) {
    const { matched } = named(name);
    if (!matched.reached) throw new Error(`${name} was to reach 65 µm`);
    expect(Math.abs(x95(matched.scenario) / TARGET.value - 1)).toBeLessThan(1e-6);
    const off = x95(atSpeed(withRotor(scenario, name), matched.wheel, matched.speed * 1.01));
    expect(Math.abs(off / TARGET.value - 1)).toBeGreaterThan(1e-3);
  }
});

test('the machine’s own rotor does what the chosen wheel does among the wheels', () => {
  const wheel = comparison.wheels.find(({ name }) => name === scenario.settings.wheel)!.matched;
  const { matched } = named('machine’s own');
  if (!matched.reached || !wheel.reached) throw new Error('both were to reach 65 µm');
  expect(matched.speed).toBe(wheel.speed);
  expect(energyOf(matched.solved)).toBe(energyOf(wheel.solved));
});

test('twice the bars hit more often: fewer passes, and the mill chokes later', () => {
  const [own, dense] = ['machine’s own', 'dense'].map((name) => {
    const { matched } = named(name);
    if (!matched.reached) throw new Error(`${name} was to reach 65 µm`);
    return matched.solved;
  });
  for (const [quantity, low, high] of [
    ['passes', 0.3, 0.9],
    ['feedAtChoke', 1.2, 3],
  ] as const) {
    const ratio = quantityNamed(quantity)!.of(dense!) / quantityNamed(quantity)!.of(own!);
    expect(ratio, quantity).toBeGreaterThan(low);
    expect(ratio, quantity).toBeLessThan(high);
  }
});

test(
  'each rotor has its curve of capacity, and they are not the same',
  () => {
    const { lines } = rotorCapacityInput(scenario, TARGET);
    expect(lines.map(({ name }) => name)).toEqual(['machine’s own', 'dense', 'slow', 'thirsty']);
    const [own, dense, slow, thirsty] = lines;
    for (const line of [own, dense, thirsty]) expect(line!.x.length).toBeGreaterThan(5);
    expect(slow!.x).toHaveLength(0);
    expect(Math.max(...thirsty!.feed)).toBeLessThan(0.99 * Math.max(...own!.feed));
  },
  PATIENT,
);

test('a band holds its value, adds independent causes by their squares, and says what is not resolved', () => {
  for (const { matched, band } of comparison.rotors!) {
    if (!matched.reached) continue;
    const energy = energyOf(matched.solved);
    expect(band!.low).toBeLessThan(0.99 * energy);
    expect(band!.high).toBeGreaterThan(1.01 * energy);
  }
  expect(
    bandOver(10, [
      [7, 13],
      [6, 10],
    ]),
  ).toEqual({ low: 5, high: 13 }); // 3² + 4² = 5²
  expect(rotorFindings(scenario, comparison).join(' ')).toMatch(
    /Dense and machine’s own cannot be ranked: their difference is within a 20 % error of the rotor coefficients\./,
  );
});

test('a fineness no rotor reaches, and a rotor that may not turn so fast, are rows', () => {
  const table = rotorTable({
    ...comparison,
    rotors: compareRotors(scenario, { ...TARGET, value: 5e-6 }),
    target: { ...TARGET, value: 5e-6 },
  });
  expect(table.rows.map(([name]) => name)).toEqual(['machine’s own', 'dense', 'slow', 'thirsty']);
  expect(table.rows[0]![2]).toMatch(/^not reached: .*µm$/);
  expect(table.rows[2]![2]).toBe('rotor too fast');
  expect(rotorFindings(scenario, comparison).at(-1)).toBe(
    'Rotor slow: the speed in the file is above its maximum.',
  );
});

test(
  'the page shows the rotors, their table and their curves of capacity; without others it does not',
  () => {
    const made = { version: 'of a test', date: '2026-01-01' };
    const { body, offer } = comparisonPage(scenario, comparison, made);
    const section = /<section id="rotors">.*?<\/section>/s.exec(body.text)![0];
    for (const name of ['machine’s own', 'dense', 'slow', 'thirsty']) expect(section).toContain(name);
    expect(section).toContain('highest feed of each rotor at each x95 of the product, and along each line');
    expect(offer.figures.map(({ id }) => id)).toContain('rotor-capacity');
    const { rotors: _, ...machine } = scenario.machine;
    const alone = { ...scenario, machine };
    const { rotors, ...without } = comparison;
    expect(rotors).toHaveLength(4);
    expect(comparisonPage(alone, without, made).body.text).not.toContain('id="rotors"');
  },
  PATIENT,
);
