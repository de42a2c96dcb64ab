import { describe, expect, test } from 'vitest';
import { DESIGNS } from '../../../src/scenario/design/designs.ts';
import { InputError } from '../../../src/scenario/errors.ts';
import type { Factor, SweepPlan } from '../../../src/scenario/scenario.ts';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import {
  CHOSEN_HEIGHT,
  FACTORS,
  FEED_RATE,
  LONG_HEIGHT,
  pilotStudy,
  ROTOR_SPEED,
  WHEEL,
  WHEEL_SPEED,
} from '../../workers/sweep/pilot.ts';

const compile = (plan: SweepPlan) => compileStudy(pilotStudy(plan)).design;

/** Coordinates of every point. */
function points(plan: SweepPlan): number[][] {
  const design = compile(plan);
  const at = new Float64Array(plan.factors.length);
  return Array.from({ length: design.size }, (_, i) => {
    design.fill(i, at);
    return [...at];
  });
}

type Range = Extract<Factor, { kind: 'number' }>;

const distinct = (rows: readonly number[][]): number => new Set(rows.map((row) => row.join())).size;

describe('grid', () => {
  test('takes every combination once, ends exact, the last factor fastest', () => {
    const rows = points({ design: 'grid', factors: [ROTOR_SPEED, WHEEL_SPEED, FEED_RATE] });
    expect(rows.length).toBe(4 * 5 * 3);
    expect(distinct(rows)).toBe(60);
    const ends = (of: 'from' | 'to') => [ROTOR_SPEED, WHEEL_SPEED, FEED_RATE].map((f) => (f as Range)[of]);
    expect(rows[0]).toEqual(ends('from'));
    expect(rows[59]).toEqual(ends('to'));
    expect(rows[1]).toEqual(ends('from').with(2, 300 / 3600));
  });

  test("does not sweep a wheel's height where another wheel is in use", () => {
    const rows = points({ design: 'grid', factors: [LONG_HEIGHT, WHEEL, FEED_RATE] });
    expect(rows.length).toBe(3 + 3 + 3 * 3);
    expect(rows.slice(0, 6).every(([height]) => Number.isNaN(height))).toBe(true);
    expect(rows.slice(6).map(([height]) => height)).toEqual([
      0.04, 0.04, 0.04, 0.08, 0.08, 0.08, 0.12, 0.12, 0.12,
    ]);
    const chosen = points({ design: 'grid', factors: [CHOSEN_HEIGHT, WHEEL, FEED_RATE] });
    expect(chosen.length).toBe(3 * 3 * 3);
  });

  test('spaces logarithms evenly and keeps whole numbers whole, each once', () => {
    const log: Factor = { ...FEED_RATE, scale: 'log', from: 0.01, to: 0.16, steps: 5 } as Factor;
    const vanes: Factor = {
      ...CHOSEN_HEIGHT,
      path: 'wheel.geometry.vanes',
      from: 12,
      to: 15,
      steps: 7,
      integer: true,
    } as Factor;
    const rates = points({ design: 'grid', factors: [log] }).map(([rate]) => rate!);
    rates.forEach((rate, k) => {
      expect(Math.abs(rate / (0.01 * 2 ** k) - 1)).toBeLessThan(1e-14);
    });
    expect(points({ design: 'grid', factors: [vanes] }).map(([n]) => n)).toEqual([12, 13, 14, 15]);
  });

  test('names every factor without steps, and refuses a number of points', () => {
    const { steps: _, ...open } = ROTOR_SPEED as Range;
    const faults = faultsOf(() => compile({ design: 'grid', points: 7, factors: [open, WHEEL_SPEED] }));
    expect(faults).toEqual(['sweep.points', 'sweep.factors.rotorSpeed']);
  });
});

function faultsOf(run: () => unknown): string[] {
  try {
    run();
  } catch (error) {
    if (error instanceof InputError) return error.faults.map(({ place }) => place);
    throw error;
  }
  return [];
}

describe.each(['sobol', 'latin-hypercube', 'sensitivity'])('%s', (design) => {
  test('stays within the factors, shares levels evenly and gives the same point for the same index', () => {
    const plan: SweepPlan = { design, factors: FACTORS, points: 700, seed: 5 };
    const rows = points(plan);
    expect(rows.length).toBe(700);
    for (const [rotor, wheelSpeed, wheel, feed] of rows) {
      expect(rotor! >= 4000 / 60 && rotor! <= 7000 / 60).toBe(true);
      expect(wheelSpeed! >= 1000 / 60 && wheelSpeed! <= 5000 / 60).toBe(true);
      expect([0, 1, 2]).toContain(wheel);
      expect(feed! >= 100 / 3600 && feed! <= 500 / 3600).toBe(true);
    }
    for (const level of [0, 1, 2]) {
      const share = rows.filter(([, , wheel]) => wheel === level).length / rows.length;
      expect(Math.abs(share - 1 / 3)).toBeLessThan(0.05);
    }
    const at = new Float64Array(5);
    compile(plan).fill(123, at);
    expect([...at]).toEqual(rows[123]);
  });

  test('follows the seed', () => {
    const first = points({ design, factors: FACTORS, points: 70, seed: 1 });
    expect(points({ design, factors: FACTORS, points: 70, seed: 1 })).toEqual(first);
    expect(points({ design, factors: FACTORS, points: 70, seed: 2 })).not.toEqual(first);
  });
});

test('designs that can be extended never move a point when more are asked for', () => {
  const extending = DESIGNS.filter((design) => design.extends).map(({ name }) => name);
  expect(extending).toEqual(['sobol', 'sensitivity']);
  for (const design of extending) {
    const few = points({ design, factors: FACTORS, points: 70, seed: 3 });
    expect(points({ design, factors: FACTORS, points: 700, seed: 3 }).slice(0, 70)).toEqual(few);
  }
});

test('a latin hypercube meets each of n slices of every number once', () => {
  const rows = points({ design: 'latin-hypercube', factors: [ROTOR_SPEED, FEED_RATE], points: 97, seed: 9 });
  const slice = (value: number, from: number, to: number): number =>
    Math.floor((97 * (value - from)) / (to - from));
  expect(new Set(rows.map(([n]) => slice(n!, 4000 / 60, 7000 / 60))).size).toBe(97);
  expect(new Set(rows.map(([, f]) => slice(f!, 100 / 3600, 500 / 3600))).size).toBe(97);
});

test('one-at-a-time starts from the scenario and moves one factor, never repeating it', () => {
  const feed: Factor = {
    kind: 'levels',
    path: 'feedRate',
    levels: [200 / 3600, 300 / 3600],
    shownIn: 'kg/h',
  };
  const rows = points({ design: 'one-at-a-time', factors: [WHEEL_SPEED, WHEEL, feed, LONG_HEIGHT] });
  const base = [1500 / 60, 1, 300 / 3600];
  expect(rows[0]!.slice(0, 3)).toEqual(base);
  expect(rows[0]![3]).toBeNaN();
  expect(rows.length).toBe(1 + 5 + 2 + 1);
  for (const row of rows.slice(1)) expect(row.slice(0, 3).filter((x, j) => x !== base[j]).length).toBe(1);
  const named: Factor = { kind: 'levels', path: 'wheel', levels: ['long-leaning'], shownIn: '1' };
  expect(faultsOf(() => compile({ design: 'one-at-a-time', factors: [named] }))).toEqual([
    'sweep.factors.wheel',
  ]);
});

test('a list gives its rows, repeats and all', () => {
  const rates: Factor = { kind: 'levels', path: 'feedRate', levels: [0.05, 0.08, 0.05], shownIn: 'kg/h' };
  const wheels: Factor = { ...WHEEL, levels: ['long-leaning', 'medium-radial', 'long-leaning'] } as Factor;
  const study = compileStudy(pilotStudy({ design: 'list', factors: [rates, wheels] }));
  expect(study.size).toBe(3);
  const { values } = study.evaluate({ first: 0, count: 3 });
  const codes = study.columns.findIndex(({ name }) => name === 'wheel');
  expect(study.columns[codes]!.names).toEqual(['long-leaning', 'medium-radial']);
  expect([...values.subarray(codes * 3, codes * 3 + 3)]).toEqual([0, 1, 0]);
  const uneven: Factor = { ...rates, levels: [0.05] } as Factor;
  expect(faultsOf(() => compile({ design: 'list', factors: [wheels, uneven] }))).toEqual([
    'sweep.factors.feedRate',
  ]);
});

test('a sensitivity design exchanges one factor at a time between two points', () => {
  const rows = points({
    design: 'sensitivity',
    factors: [ROTOR_SPEED, WHEEL_SPEED, FEED_RATE],
    points: 64,
    seed: 2,
  });
  expect(rows.length).toBe(60);
  for (let g = 0; g < rows.length; g += 5) {
    const [a, b, ...mixed] = rows.slice(g, g + 5);
    mixed.forEach((row, j) => {
      expect(row).toEqual(a!.with(j, b![j]!));
    });
  }
});

test('a factor that never changes anything is refused by its path', () => {
  const idle: Factor = { ...CHOSEN_HEIGHT, path: 'machine.wheels.medium-radial.geometry.height' };
  const plan: SweepPlan = { design: 'grid', factors: [FEED_RATE, idle] };
  expect(faultsOf(() => compile(plan))).toEqual([
    'sweep.factors.machine.wheels.medium-radial.geometry.height',
  ]);
});

test('an unknown design is refused', () => {
  expect(faultsOf(() => compile({ design: 'mesh', factors: [FEED_RATE] }))).toEqual(['sweep.design']);
});
