import { beforeAll, expect, test } from 'vitest';
import { capacityInput, rotorCapacityInput } from '../../src/answers/capacity-curves.ts';
import { ridgeOf } from '../../src/answers/capacity-ridge.ts';
import { caseFacts } from '../../src/answers/desk/case-facts.ts';
import { axisLevels } from '../../src/answers/desk/window-axes.ts';
import { ladderView } from '../../src/answers/feed-ladder.ts';
import { withBands } from '../../src/answers/feed-ladder-bands.ts';
import { bandsView } from '../../src/answers/limit-bands.ts';
import { swayView } from '../../src/answers/one-at-a-time.ts';
import { planeView } from '../../src/answers/plane.ts';
import { pointState, pointView } from '../../src/answers/point-view.ts';
import { recommend } from '../../src/answers/recommend.ts';
import { answerOf } from '../../src/answers/report-answer.ts';
import { reportJson } from '../../src/answers/report-json.ts';
import { turnsView } from '../../src/answers/setting-corrections.ts';
import { goalColumn, rowsMeeting, scoresOf } from '../../src/answers/sweep-ranking.ts';
import { type SweepTable, tableGrid } from '../../src/answers/sweep-table.ts';
import {
  banded,
  commonReason,
  firstAxes,
  levelsOf,
  planeOf,
  sweepWindow,
} from '../../src/answers/sweep-window.ts';
import { sweptLines } from '../../src/answers/swept-lines.ts';
import { tableFromStore } from '../../src/answers/table-from-store.ts';
import { tableVerdict } from '../../src/answers/table-verdict.ts';
import { watchWords } from '../../src/answers/watch-words.ts';
import { mattersOf } from '../../src/answers/what-matters.ts';
import { withValue } from '../../src/scenario/operating-point.ts';
import { quantityNamed } from '../../src/scenario/outcome/quantities.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { compileStudy } from '../../src/sweep/study/compile.ts';
import { studyOf } from '../../src/sweep/study/study-of.ts';
import { posteriorOf } from '../../src/trials/calibration/take-up.ts';
import { pointOfSample, samplesOf } from '../../src/trials/posterior-samples.ts';
import { demo } from './cases.ts';
import { asText, withoutSamples } from './whole.ts';

/** Every number and word of a view against a text that was read; `-u` writes it anew, to be read again. */
const same = (value: unknown, name: string) =>
  expect(asText(value)).toMatchFileSnapshot(`expected/${name}.txt`);

/** A sweep as its store hands it over. */
function swept(scenario: Scenario) {
  const study = studyOf(scenario);
  const { size, columns, evaluate } = compileStudy(study);
  const { values } = evaluate({ first: 0, count: size });
  const rows = {
    count: size,
    index: Float64Array.from({ length: size }, (_, row) => row),
    values: Object.fromEntries(columns.map(({ name }, c) => [name, values.slice(c * size, (c + 1) * size)])),
  };
  return { table: tableFromStore(scenario, study.plan.factors, columns, rows), study, columns, rows };
}

let scenario: Scenario;
beforeAll(async () => {
  scenario = await demo();
});

test('a point, and one that chokes', async () => {
  const { outcome: _, ...view } = pointView(scenario);
  await same({ ...view, state: pointState(scenario, view) }, 'view-point');
  const choked = pointView(await demo('settings.feedRate=900 kg/h'));
  await same({ verdict: choked.verdict, choke: choked.choke, curves: choked.curves ?? null }, 'view-choked');
});

test('the ladder, and bands about it: the middle half over samples, those that choke counted as above', async () => {
  const ladder = ladderView(scenario);
  await same(ladder, 'view-ladder');
  const { rungs } = withBands(scenario, ladder);
  const posterior = posteriorOf(scenario);
  const at = withValue(scenario, 'feedRate', ladder.feed[6]! / 3600);
  const values = samplesOf(posterior, 32).map((sample) => {
    const point = pointOfSample(at, posterior, sample);
    return point.status === 'steady' ? quantityNamed('x95')!.of(point) * 1e6 : Number.POSITIVE_INFINITY;
  });
  const sorted = values.sort((a, b) => a - b);
  const { low, high } = rungs[0]!.band!;
  // quarters of 32 values lie between the 8th and 9th, and the 24th and 25th
  expect(low[6]).toBeGreaterThan(sorted[7]! - 1e-9);
  expect(low[6]).toBeLessThan(sorted[8]! + 1e-9);
  expect(high[6]).toBeGreaterThan(sorted[23]! - 1e-9);
  expect(high[6]).toBeLessThan(sorted[24]! + 1e-9);
  expect(high.at(-1)).toBe(Number.POSITIVE_INFINITY);
  // straight between the feeds at which they are found
  for (const edge of [low, high]) expect(edge[5]).toBeCloseTo((edge[4]! + edge[6]!) / 2, 9);
});

test('one coefficient at a time, of sizes and of what is in percent', async () => {
  await same([swayView(scenario, 'x95'), swayView(scenario, 'motorLoad')], 'view-sway');
});

test('what one setting corrects', async () => {
  await same(
    [turnsView(scenario), turnsView(await demo('settings.wheelSpeed=1500 rpm'))],
    'view-corrections',
  );
});

test('a plane and the bands of its limits', async () => {
  const x = {
    path: 'wheelSpeed',
    as: 'shaft',
    shownIn: 'rpm',
    levels: Float64Array.of(1500, 2500, 3500),
  } as const;
  const y = { path: 'feedRate', shownIn: 'kg/h', levels: Float64Array.of(200, 500, 900) } as const;
  await same(planeView(scenario, x, y, 'x95'), 'view-plane');
  await same(planeView(scenario, x, y, 'passing(75 um)').quantity, 'view-plane-share');
  const bands = bandsView(scenario, x, y);
  expect(Object.keys(bands)).toEqual(scenario.spec.map(({ text }) => text));
  for (const { lattice, low, high } of Object.values(bands)) {
    expect([lattice.x.length, lattice.x[0], lattice.x[8], lattice.y[4]]).toEqual([9, 1500, 3500, 550]);
    expect([low.length, high.length]).toEqual([81, 81]);
    low.forEach((each, k) => {
      if (!Number.isNaN(each)) expect(high[k]).toBeGreaterThan(each);
    });
    expect(low[0]).not.toBeNaN();
  }
  // where half of the samples choke there is no band
  expect(bands['x50 >= 20 um']!.low[80]).toBeNaN();
});

test('a plane holds the limits of the machine, where something is required', async () => {
  const x = {
    path: 'wheelSpeed',
    as: 'shaft',
    shownIn: 'rpm',
    levels: Float64Array.of(3000, 6000, 9000),
  } as const;
  const y = { path: 'feedRate', shownIn: 'kg/h', levels: Float64Array.of(100, 650) } as const;
  const { limits } = planeView(scenario, x, y, 'x95');
  const margins = (name: string) => [...limits.find((each) => each.name === name)!.margin];
  expect(margins('highest wheel speed').map((margin) => margin >= 0)).toEqual([
    ...[true, true, false],
    ...[true, true, false],
  ]);
  expect(margins('highest rotor speed').every((margin) => margin > 0.2)).toBe(true);
  const slow = { ...x, levels: Float64Array.of(1500, 2000) };
  const loads = planeView(scenario, slow, y, 'motorLoad');
  const motor = [...loads.limits.find((each) => each.name === 'power of the motor')!.margin];
  expect(motor.map((margin) => margin >= 0)).toEqual([...loads.quantity].map((load) => load <= 100));
  expect(motor.some((margin) => margin < 0)).toBe(true);
  expect(planeView({ ...scenario, spec: [] }, x, y, 'x95').limits).toEqual([]);
});

test('capacity of wheels and rotors against fineness', async () => {
  const target = { quantity: 'x95', value: 70e-6 };
  const two = {
    ...scenario,
    machine: {
      ...scenario.machine,
      wheels: { 'medium-leaning': scenario.machine.wheels['medium-leaning']! },
    },
  };
  await same([capacityInput(two, target), rotorCapacityInput(two, target)], 'view-capacity');
});

test('what a form needs of a case', async () => {
  const { values, window, wheels, requirements, words, goal, calibrated, source } = caseFacts(scenario);
  expect(values['material.density']).toEqual({ text: '1450 kg/m³', label: 'given', source: 'scenario file' });
  const levels = axisLevels(window.axes[0]!, 3);
  await same({ window, wheels, requirements, words, goal, calibrated, source, levels }, 'view-case');
  expect(watchWords(scenario)).toBe(
    'At the mill, stop the run when it reaches 13.5 kW or 50 °C at the outlet, when the air flow falls below 1350 m³/h. Highest speeds: rotor 7200 rpm, wheel 6000 rpm.',
  );
});

const SMALL = [
  'sweep.factors={ wheelSpeed: { from: 1200 rpm, to: 3600 rpm, steps: 4 }, wheel: [ medium-radial, medium-leaning ], feedRate: { from: 150 kg/h, to: 900 kg/h, steps: 4 } }',
];

/** A table without its columns of numbers. */
function outline({ factors, quantities, limits, settings, meets, steady, reason, ...rest }: SweepTable) {
  const ends = (values: ArrayLike<number>) => {
    const known = Array.from(values).filter(Number.isFinite);
    return [Math.min(...known), Math.max(...known)];
  };
  return {
    ...rest,
    meets: Array.from(meets ?? []).filter((each) => each === 1).length,
    steady: ends(steady ?? []),
    choke: Array.from(reason).filter((each) => !Number.isNaN(each)).length,
    factors: factors.map(({ values, ...each }) => ({ ...each, values: ends(values) })),
    quantities: quantities.map(({ values, of, measure, logarithmic }) =>
      [of, measure.name, measure.unit, logarithmic, ...ends(values)].join(' | '),
    ),
    settings: (settings ?? []).map(({ of, measure }) => `${of} | ${measure.name} | ${measure.unit}`),
    limits: limits.map(({ values, ...each }) => ({ ...each, values: ends(values) })),
  };
}

test('a sweep: its table, what it recommends, its window, ridge and effects', async () => {
  const own = await demo(...SMALL);
  const { table, study, columns, rows } = swept(own);
  await same(outline(table), 'sweep-table');
  const scores = scoresOf(own, table);
  await same(
    {
      meeting: rowsMeeting(table),
      worst: [...scores.worst].map((each) => String(Number(each.toPrecision(3)))),
      missed: [...scores.missed].map((each) => String(Number(each.toPrecision(3)))),
      goal: [...goalColumn(own, table)!],
      why: commonReason(table),
    },
    'sweep-scores',
  );
  const grid = tableGrid(table)!;
  const axes = ['wheelSpeed', 'feedRate'] as const;
  const at = { wheel: 'medium-leaning' };
  expect(firstAxes(table, grid)).toEqual(axes);
  const levels = levelsOf(table.quantities.find(({ of }) => of === 'x95')!);
  const plane = planeOf(table, grid, axes, at, 'x95');
  const limit = table.limits[0]!.name;
  const band = { lattice: plane.lattice, low: plane.quantity, high: plane.quantity };
  expect(banded(plane, { [limit]: band }).limits.map((each) => each.band !== undefined)).toEqual(
    table.limits.map((_, k) => k === 0),
  );
  await same({ levels, plane, window: sweepWindow(table, grid, axes, at, 'x95', levels) }, 'sweep-window');
  await same(ridgeOf(table, grid, 'wheelSpeed'), 'sweep-ridge');
  expect(['feedRate', 'wheel', 'air.flow'].map((path) => ridgeOf(table, grid, path))).toEqual([
    undefined,
    undefined,
    undefined,
  ]);
  await same(mattersOf({ study, columns }, rows, table, 'x95'), 'sweep-effects');
  expect(
    [
      { wheelSpeed: 2000, feedRate: 200, wheel: 'medium-leaning' },
      { wheelSpeed: 1200, feedRate: 400, wheel: 'medium-leaning' },
      { wheelSpeed: 3600, feedRate: 900, wheel: 'medium-radial' },
    ].map((place) => tableVerdict(table, grid, place)),
  ).toEqual(['meets the whole spec.', 'misses 95 % below 75 µm.', 'it chokes here, or near here.']);
});

test('a sweep: the answer of its report', async () => {
  const own = await demo(...SMALL);
  const best = recommend(own, own.sweep!.factors, swept(own).table);
  const answer = answerOf(best, own);
  const { tie: _, nominal: __, ...json } = reportJson(best, answer);
  const { second, ...said } = answer;
  const nominalAndTie = second.filter((line) => /^(If the coefficients|A tie)/.test(line));
  const own_ = second.filter((line) => !nominalAndTie.includes(line));
  await expect(
    withoutSamples(asText({ said, second: own_, json: { ...json, answer: [] } })),
  ).toMatchFileSnapshot('expected/sweep-answer.txt');
});

test('a sweep whose best stands at the end of a range says so', async () => {
  const own = await demo(
    'sweep.factors={ wheelSpeed: { from: 1900 rpm, to: 2000 rpm, steps: 2 }, rotorSpeed: { from: 5500 rpm, to: 5900 rpm, steps: 3 } }',
  );
  const { edges } = recommend(own, own.sweep!.factors, swept(own).table);
  expect(edges).toContainEqual({ path: 'wheelSpeed', value: 2000, unit: 'rpm', end: 'highest' });
  expect(answerOf(recommend(own, own.sweep!.factors, swept(own).table), own).second.join(' ')).toContain(
    'Wheel speed 2000 rpm is the highest in the sweep',
  );
});

test('a sweep over one number draws it against each requirement', async () => {
  const own = await demo(
    'sweep.factors={ feedRate: { from: 200 kg/h, to: 1000 kg/h, steps: 5 }, wheel: [ medium-radial, medium-leaning ] }',
  );
  await same(sweptLines(own, swept(own).table), 'sweep-lines');
});
