import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { changeover } from '../../src/answers/grades/changeover.ts';
import { gradeSheet } from '../../src/answers/grades/grade-sheet.ts';
import { orderSentences, orderTable } from '../../src/answers/grades/order-words.ts';
import { type GradeRun, runOrder } from '../../src/answers/grades/run-order.ts';
import { tellsMost, toldOfOthers } from '../../src/answers/grades/told-words.ts';
import { undersizeAt } from '../../src/model/psd/curve.ts';
import { loadScenario } from '../../src/scenario/load.ts';
import { toCase } from '../../src/scenario/operating-point.ts';
import { solvePoint } from '../../src/scenario/outcome/solved.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { scenarioOfGrade } from '../../src/scenario/scenario-of-grade.ts';
import type { Budget } from '../../src/search/next/budget.ts';
import { emptyLog } from '../../src/trials/log/empty-log.ts';

const FILE = resolve(import.meta.dirname, '../../scenarios/erythritol-grades.yaml');
const LAG = 60;

/** A grade at a wheel speed and feed rate; the loop so quick that the mill follows at once. */
async function at(grade: string, wheelSpeed: number, feedRate: number, ...more: string[]): Promise<Scenario> {
  const set = [`wheelSpeed=${wheelSpeed} rpm`, `feedRate=${feedRate} kg/h`, ...more];
  return scenarioOfGrade(await loadScenario(FILE, { set }), grade);
}

/** Share of the product finer than a size. */
function finer(scenario: Scenario, size: number): number {
  const point = solvePoint(toCase(scenario), { choke: false });
  if (point.status === 'choked') throw new Error('chokes');
  return undersizeAt(point.curve, size);
}

describe('what a change of grade costs', () => {
  test('coarse to finest: as worked out by hand for ducts that mix (first-order lag) behind a mill that follows at once', async () => {
    const quick = 'machine.loopTime=2 ms';
    const from = await at('standard', 1000, 200, quick);
    const to = await at('finest', 4000, 150, quick);
    const [coarse, fine] = [finer(from, 50e-6), finer(to, 50e-6)];
    expect(coarse).toBeLessThan(0.8);
    expect(fine).toBeGreaterThan(0.97);
    // a F_A Q_A + (1 − a) F_B Q_B = 0.95 (a F_A + (1 − a) F_B) with a = e^(−t/τ), A having run for five lags
    const before = 200 * (0.95 - coarse) * (1 - Math.exp(-5));
    const after = 150 * (fine - 0.95);
    const time = LAG * Math.log(1 + before / after);
    const change = changeover(from, to)!;
    expect(change.time / time).toBeCloseTo(1, 2);
    expect(change.thrownAway / ((150 / 3600) * time)).toBeCloseTo(1, 2);
  });

  test('finest to coarse costs nothing where only a coarse limit is required', async () => {
    const change = changeover(await at('finest', 4000, 150), await at('standard', 1500, 200))!;
    expect(change).toEqual({ thrownAway: 0, time: 0 });
  });

  test('a grade that misses its spec never comes into it', async () => {
    expect(changeover(await at('standard', 1000, 200), await at('finest', 1500, 150))).toBeUndefined();
  });

  test('a slower lag costs more, in proportion', async () => {
    const of = async (lag: number) =>
      changeover(
        await at('standard', 1000, 200, `time.sampleLag=${lag} s`, 'machine.loopTime=2 ms'),
        await at('finest', 4000, 150, `time.sampleLag=${lag} s`, 'machine.loopTime=2 ms'),
      )!.thrownAway;
    expect((await of(60)) / (await of(30))).toBeCloseTo(2, 1);
  });
});

describe('the order, by hand', () => {
  const budget: Budget = {
    powder: 20,
    lossPerRun: 0.5,
    minimumRun: 0,
    time: Number.POSITIVE_INFINITY,
    settle: 180,
    sample: 60,
    changeOver: 900,
    wheelChange: 2700,
    empty: 1200,
  };

  async function grades(...wheels: readonly string[]): Promise<GradeRun[]> {
    const scenario = await loadScenario(FILE, { set: ['feedRate=90 kg/h'] });
    return ['standard', 'fine', 'finest'].map((name, k) => {
      const own = scenarioOfGrade(scenario, name);
      return { name, scenario: { ...own, settings: { ...own.settings, wheel: wheels[k]! } } };
    });
  }

  /** Thrown away from one grade to the next [kg], in 10 s a kilogram; going finer costs. */
  const KG: Readonly<Record<string, number>> = {
    'standard fine': 2,
    'standard finest': 5,
    'fine finest': 3,
    'finest fine': 1,
  };
  const costs = (runs: readonly GradeRun[]) => (from: Scenario, to: Scenario) => {
    const name = (scenario: Scenario) => runs.find((run) => run.scenario === scenario)!.name;
    const mass = KG[`${name(from)} ${name(to)}`] ?? 0;
    return { thrownAway: mass, time: 100 * mass };
  };

  test('on one wheel the finest comes first, as coarse powder spoils it', async () => {
    const runs = await grades('long-leaning', 'long-leaning', 'long-leaning');
    const order = runOrder(runs, budget, costs(runs))!;
    // finest, fine, standard: 1 + 0 = 1 kg; fine, standard, finest: 5; finest, standard, fine: 2
    expect(order.runs.map(({ name }) => name)).toEqual(['finest', 'fine', 'standard']);
    expect(order.thrownAway).toBe(1);
    // 5 kg: standard to finest, or fine after it 1 more: 6
    expect(order.worst).toBe(6);
    // three runs of 240 s at 90 kg/h: 6 kg each, 0.5 kg lost each
    expect(order.powder).toBeCloseTo(19.5, 9);
    // 1200 + 3 · 240 + 2 · 900 s
    expect(order.time).toBeCloseTo(3720, 9);
    expect(orderSentences(order, budget)).toEqual([
      'Run finest, then fine, then standard: no wheel change, the fewest these settings allow; 1 kg are thrown away at the changes; the worst order with as few wheel changes throws away 6 kg.',
      'After a change the product still holds powder of the grade before, left in mill and ducts: throw away what the table says. A wheel change is taken to empty neither.',
      'The visit takes 1 h, the empty run first, and 19.5 kg of powder of 20 kg available above the reserve.',
    ]);
    expect(orderTable(order).rows.map((row) => row[6])).toEqual(['–', '1', '0']);
  });

  test('fewest wheel changes come before powder', async () => {
    const runs = await grades('long-leaning', 'medium-radial', 'long-leaning');
    const order = runOrder(runs, budget, costs(runs))!;
    // the two on long-leaning stay together: finest, standard, fine is 0 + 2; fine, finest, standard 3 + 0
    expect(order.wheelChanges).toBe(1);
    expect(order.runs.map(({ name }) => name)).toEqual(['finest', 'standard', 'fine']);
    // 3 · 240 s and 20 s more for 2 kg beyond 180 s, one wheel change
    expect(order.time).toBeCloseTo(1200 + 740 + 2 * 900 + 2700, 9);
    expect(orderSentences(order, { ...budget, powder: 10 }).at(-1)).toContain(
      '20 kg of powder, more than the 10 kg available above the reserve',
    );
  });

  test('more grades than can be ordered have no order', async () => {
    const [one] = await grades('long-leaning', 'long-leaning', 'long-leaning');
    expect(runOrder(Array(7).fill(one), budget, () => undefined)).toBeUndefined();
  });
});

describe('the sheet of a visit', () => {
  const budget: Budget = {
    powder: 100,
    lossPerRun: 0.5,
    minimumRun: 2,
    time: 6 * 3600,
    settle: 240,
    sample: 0,
    changeOver: 900,
    wheelChange: 2700,
    empty: 1200,
  };
  const FACTORS =
    'sweep.factors={ wheelSpeed: { from: 600 rpm, to: 5000 rpm, steps: 5 }, feedRate: { from: 100 kg/h, to: 900 kg/h, steps: 5 } }';

  test('a run and a line of the log a grade, in one order, with what each requires', async () => {
    const scenario = await loadScenario(FILE, { set: [FACTORS] });
    const { sheet, lines, keys, found } = gradeSheet(scenario, budget, 1);
    const { runs } = keys.order as { runs: readonly { grade: string }[] };
    const names = runs.map(({ grade }) => grade);
    expect([...names].sort()).toEqual(['fine', 'finest', 'standard']);
    expect(lines.map(({ name }) => name)).toEqual(names);
    expect(sheet.plan!.settings.rows.map((row) => row[1])).toEqual(names);
    expect(sheet.plan!.readings.rows).toHaveLength(3);
    expect(sheet.plan!.settles[names.indexOf('finest')]).toMatch(/makes finest: .*95 % below 50 µm/);
    const log = emptyLog(lines).split('\n');
    expect(log).toHaveLength(names.length + 3);
    lines.forEach(({ scenario: own }, k) => {
      const rpm = Number(sheet.plan!.settings.rows[k]![4]!.split(' ')[0]);
      expect(rpm / (60 * toCase(own).settings.wheelSpeed)).toBeCloseTo(1, 3);
      expect(log[k + 2]).toContain(`,${own.settings.wheel},`);
    });
    expect(found).toBe(true);
    const { now, after } = keys.uncertainty as {
      now: { all: number; grades: Record<string, number> };
      after: readonly { grade: string; all: number; grades: Record<string, number> }[];
    };
    // one fit serves all: the run of any grade leaves every grade known at least as well
    expect(after.map(({ grade }) => grade).sort()).toEqual([...names].sort());
    for (const { all, grades } of after) {
      expect(all).toBeLessThan(now.all);
      expect(all ** 2).toBeCloseTo(
        Object.values(grades).reduce((sum, each) => sum + each ** 2, 0),
        9,
      );
      for (const name of names) expect(grades[name]!).toBeLessThanOrEqual(now.grades[name]! + 1e-9);
    }
    expect(after[0]!.all).toBe(Math.min(...after.map(({ all }) => all)));
    expect(sheet.headline.join(' ')).toContain(`of these runs ${after[0]!.grade} determines most`);
    const short = gradeSheet(scenario, { ...budget, time: 1800 }, 1);
    expect(short.found).toBe(false);
    expect(short.sheet.headline.join(' ')).toContain('more than the 0.5 h available');
  });
});

test('what a run tells of the others, by hand', () => {
  const told = {
    before: [0.4, 0.2],
    total: Math.hypot(0.4, 0.2),
    runs: [
      { name: 'fine', after: [0.1, 0.05], total: Math.hypot(0.1, 0.05) },
      { name: 'coarse', after: [0.3, 0.199], total: Math.hypot(0.3, 0.199) },
    ],
  };
  const names = ['coarse', 'fine'];
  expect(tellsMost(told)).toEqual([
    'One fit serves all grades: of these runs fine determines most, it is expected to reduce the uncertainty of all answers together from 45 % to 11 %. If only one run can be made, make that one.',
  ]);
  expect(toldOfOthers(names, told, 'fine')).toBe(
    'It is expected to reduce the uncertainty of coarse from 40 % to 10 % and fine from 20 % to 5 %.',
  );
  // half a percent of a change is no news
  expect(toldOfOthers(names, told, 'coarse')).toBe(
    'It is expected to reduce the uncertainty of coarse from 40 % to 30 %.',
  );
  expect(toldOfOthers(names, told, 'other')).toBeUndefined();
});
