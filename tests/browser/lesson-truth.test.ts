import { beforeAll, expect, test } from 'vitest';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import { passByPass } from '../../src/viz/lesson/batch.ts';
import { KEYS } from '../../src/viz/lesson/keys.ts';
import { lessonOn } from '../../src/viz/lesson/lesson.ts';
import { run, set } from '../../src/viz/lesson/mill.ts';
import type { Lesson } from '../../src/viz/lesson/step.ts';
import { leastEnergy, looked, once, three } from '../../src/viz/lesson/steps/equal-fineness.ts';
import { brokenOf } from '../../src/viz/lesson/steps/one-hit.ts';
import { PASSES, topEdge } from '../../src/viz/lesson/steps/send-back.ts';
import { slippedAt, wheelRange } from '../../src/viz/lesson/steps/slips-past.ts';
import { around, tooMuch } from '../../src/viz/lesson/steps/too-much.ts';
import { rotorRange, topAndRest, trimmed } from '../../src/viz/lesson/steps/top-and-rest.ts';
import { cutsAt, speedRange } from '../../src/viz/lesson/steps/which-wheel.ts';
import { STEPS } from '../../src/viz/lesson/steps.ts';
import { SHEET_TABLES } from '../../src/viz/lesson/worksheet.ts';
import { demo } from './sweep-page.ts';

let lesson: Lesson;
beforeAll(async () => {
  lesson = lessonOn(await demo());
});

const even = ([from, to]: readonly [number, number], count: number) =>
  Array.from({ length: count }, (_, k) => from + ((to - from) * k) / (count - 1));
const answerOf = (id: string) => KEYS[id]!.answer(lesson);
const x95 = (solved: NonNullable<ReturnType<typeof run>>) => quantityNamed('x95')!.of(solved);

test('one visit: faster breaks more, smaller less, over both sliders', () => {
  const [rotor, size] = STEPS[0]!.sliders(lesson);
  const bySpeed = even([rotor!.min, rotor!.max], 8).map((each) =>
    brokenOf(lesson, { rotor: each, size: 500 }),
  );
  const bySize = even([size!.min, size!.max], 8).map((each) =>
    brokenOf(lesson, { rotor: rotor!.value, size: each }),
  );
  for (const shares of [bySpeed, bySize])
    shares.slice(1).forEach((share, k) => {
      expect(share).toBeGreaterThan(shares[k]!);
    });
});

test('the curve of a single size reaches 100 % at that size, and nothing grows', () => {
  for (const size of [100, 270, 500, 730, 1000]) {
    const { figures } = STEPS[0]!.show(lesson, { rotor: 5730, size });
    const { lines } = figures[0]!.input as unknown as { lines: { name: string; x: number[]; y: number[] }[] };
    const { x, y } = lines.find(({ name }) => name === 'after one visit')!;
    expect(x[y.indexOf(100)]).toBe(size);
    expect(Math.max(...x.filter((_, k) => y[k]! < 99.9))).toBeLessThanOrEqual(size);
  }
});

test('the top edge rises from pass to pass, is interpolated, and ends at the x95 of the running mill', () => {
  const batch = passByPass(lesson.scenario, 2000)!;
  const own = 1e6 * x95(run(lesson.scenario)!);
  const edges = Array.from({ length: PASSES }, (_, k) => topEdge(batch, k + 1));
  edges.slice(1).forEach((edge, k) => {
    expect(edge).toBeGreaterThan(edges[k]!);
  });
  expect(edges.at(-1)!).toBeLessThanOrEqual(own);
  expect(topEdge(batch, 2000) / own).toBeCloseTo(1, 3);
  for (const pass of [3, 10, PASSES])
    expect(answerOf('send-back')).toContain(`${Number(edges[pass - 1]!.toPrecision(3))} µm`);
});

test('equal fineness: dust rises with the hits over the whole slider, energy has its minimum between', () => {
  const hits = [0.5, 0.7, 1, 1.4, 2, 3, 4, 6, 8];
  const rows = hits.map((each) => three(looked(lesson, each)).map(Number));
  rows.slice(1).forEach(([dust], k) => {
    expect(dust).toBeGreaterThan(rows[k]![0]!);
  });
  const best = leastEnergy(lesson);
  for (const [, energy] of rows) expect(energy).toBeGreaterThanOrEqual(best.energy - 0.05);
  expect(rows[0]![1]!).toBeGreaterThan(1.2 * best.energy);
  expect(rows.at(-1)![1]!).toBeGreaterThan(1.2 * best.energy);
  expect(Number(three(once(lesson))[0])).toBeGreaterThan(rows.at(-1)![0]!);
  expect(answerOf('equal-fineness')).toMatch(/^Least dust and least energy are not the same mill/);
  expect(answerOf('equal-fineness')).toContain('Energy has its minimum between');
  expect(answerOf('equal-fineness')).toContain(`${Number(best.energy.toPrecision(3))} kWh/t`);
});

test('top and rest: trimmed to the same top, dust hardly follows the rotor and passes rise as it slows', () => {
  const [, rotor] = topAndRest.sliders(lesson);
  const first = run(set(lesson.scenario, { rotor: rotor!.value }))!;
  const pairs = even(rotorRange(lesson), 7).map((speed) => trimmed(lesson, speed)!);
  const passes = pairs.map((each) => quantityNamed('passes')!.of(each));
  const dust = pairs.map((each) => Number(three(each)[0]));
  for (const each of pairs) expect(x95(each) / x95(first)).toBeCloseTo(1, 6);
  passes.slice(1).forEach((each, k) => {
    expect(each).toBeLessThan(passes[k]!);
  });
  expect(Math.max(...dust) / Math.min(...dust)).toBeLessThan(1.15);
  expect(answerOf('top-and-rest')).toMatch(
    /^Hardly: at equal top the dust changes by only 0\.\d+ percentage/,
  );
});

test('which wheel: the tall one cuts finest at every speed of the slider', () => {
  const { min, max } = speedRange(lesson);
  for (const speed of even([min, max], 7)) expect(cutsAt(lesson, speed)[0]!.name).toBe('long-leaning');
  expect(answerOf('which-wheel')).toMatch(/^No, it cuts finest/);
});

test('too much: below the choke two crossings, both on the curve; above it none', () => {
  const [feed] = tooMuch.sliders(lesson);
  const { feedAtChoke } = around(lesson, 240);
  let gap = Number.POSITIVE_INFINITY;
  for (const each of even([feed!.min, feed!.max], 9)) {
    const { runsAt, tipsAt, x, y } = around(lesson, each);
    if (each > feedAtChoke) {
      expect([runsAt, tipsAt]).toEqual([undefined, undefined]);
      continue;
    }
    if (tipsAt === undefined) continue;
    expect(tipsAt).toBeGreaterThan(runsAt!);
    expect(tipsAt - runsAt!).toBeLessThan(gap);
    gap = tipsAt - runsAt!;
    x.forEach((flow, k) => {
      if (flow > runsAt! * 1.001 && flow < tipsAt * 0.999) expect(y[k]!).toBeLessThan(flow);
      if (flow > tipsAt * 1.001) expect(y[k]!).toBeGreaterThan(flow);
    });
  }
  expect(gap).toBeLessThan(Number.POSITIVE_INFINITY);
});

test('what slips past: more passes bring no less of it, a slower rotor more', () => {
  const { min, max, value } = wheelRange(lesson);
  const shares = even([min, max], 6).map((wheel) => slippedAt(lesson, 1, wheel)!);
  shares.slice(1).forEach((share, k) => {
    expect(share).toBeGreaterThan(0.99 * shares[k]!);
  });
  expect(shares.at(-1)!).toBeGreaterThan(shares[0]!);
  expect(slippedAt(lesson, 1, value, 5000)!).toBeGreaterThan(1.1 * slippedAt(lesson, 1, value, 5730)!);
  expect(answerOf('slips-past')).toMatch(/^No\./);
});

test('the worksheet has a table for the steps that have numbers to read, with no gap in the model’s own', () => {
  expect(Object.keys(SHEET_TABLES).every((id) => STEPS.some((step) => step.id === id))).toBe(true);
  for (const table of Object.values(SHEET_TABLES)) {
    const { heads, given, rows } = table(lesson);
    expect(given).toBeLessThan(heads.length);
    for (const row of rows) {
      expect(row.length).toBe(heads.length);
      expect(row.join(' ')).not.toMatch(/NaN|undefined/);
    }
  }
});
