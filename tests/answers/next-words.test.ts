import { describe, expect, test } from 'vitest';
import { type Expected, runSheet } from '../../src/answers/next/run-sheet.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { budgetOf } from '../../src/search/next/budget.ts';
import type { Plan, PlannedRun } from '../../src/search/next/plan.ts';
import { demo, requiring } from './cases.ts';

const MINUTE = 60;
const AT = ['settings.rotorSpeed=5400 rpm', 'settings.wheelSpeed=2250 rpm'] as const;
const case_ = async (feed = 200): Promise<Scenario> =>
  requiring(
    await demo(...AT, `settings.feedRate=${feed} kg/h`),
    'passing(75 um) >= 95 %',
    'motorLoad <= 90 %',
  );
const cost = { feed: 6.7, powder: 7.2, duration: 4 * MINUTE, time: 20 * MINUTE };
const run = (scenario: Scenario, more: Partial<PlannedRun> = {}): PlannedRun => ({
  trial: { scenario } as PlannedRun['trial'],
  cost,
  before: 0.12,
  after: 0.05,
  moves: 0.2,
  raises: 0.15,
  why: 'asked',
  settles: [{ path: 'machine.wheels.medium-radial.cutFactor', symbol: 'χ_c', before: 0.19, after: 0.093 }],
  ...more,
});
const plan = (scenario: Scenario, more: Partial<Plan> = {}): Plan => ({
  answer: { scenario, lines: [{ text: 'passing(75 um) >= 95 %', value: 0, gradient: [] }], missed: [] },
  runs: [],
  repeat: undefined,
  ends: 'asked',
  settingsInDoubt: 0.04,
  bestRaise: 0.013,
  powder: 14.4,
  time: 3600,
  notRun: [],
  ...more,
});
const band = (median: number) => ({ low: 0.9 * median, median, high: 1.1 * median });
const expected = (one: PlannedRun, power = 9000, outlet = 310): Expected => ({
  run: one,
  power: band(power),
  temperature: { low: outlet - 5, median: outlet, high: outlet + 5 },
  x50: band(35e-6),
  x95: band(70e-6),
});
const budget = async (have = 20, hours = 4) => ({ ...budgetOf(await demo(), hours), powder: have });

describe('what the trials are for', () => {
  test('two runs: how far the uncertainty falls, what they take, and no room for a repeat', async () => {
    const scenario = await case_();
    const runs = [run(scenario), run(scenario, { before: 0.05, after: 0.031, why: 'teaches' })];
    const sheet = runSheet(
      scenario,
      plan(scenario, { runs, ends: 'powder' }),
      runs.map((one) => expected(one)),
      await budget(),
    );
    expect(sheet.headline).toEqual([
      'Run 2 trials: expected to reduce the uncertainty of the answer from 12 % to 3.1 %.',
      'They take 14.4 kg of 20 kg and 1 h, the empty run first; there is no room for a repeat, so drift will not show. The list ends because the powder is used up.',
    ]);
    expect(sheet.asked).toBe('95 % below 75 µm');
    expect(sheet.at).toMatch(/^rotor 5400 rpm, \S+ 2250 rpm, 200 kg\/h$/);
  });
  test('one run with a repeat; the time is what ends the list', async () => {
    const scenario = await case_();
    const one = run(scenario, { before: 1.4, after: 0.5 });
    const sheet = runSheet(
      scenario,
      plan(scenario, { runs: [one], repeat: cost, ends: 'time' }),
      [expected(one)],
      await budget(Number.POSITIVE_INFINITY),
    );
    expect(sheet.headline).toEqual([
      'Run 1 trial: expected to reduce the uncertainty of the answer from more than 100 % to 50 %.',
      'It takes 14.4 kg and 1 h, the empty run first and one repeat last. The list ends because the time is used up.',
    ]);
  });
  test('settings that miss the spec are said to, and that no trial cures it', async () => {
    const scenario = await case_();
    const one = run(scenario);
    const missing = plan(scenario, {
      runs: [one],
      answer: { ...plan(scenario).answer, missed: ['passing(75 um) >= 95 %'] },
    });
    expect(runSheet(scenario, missing, [expected(one)], await budget()).headline[2]).toBe(
      'By present estimates these settings miss the spec (passing(75 um) >= 95 %). A trial cannot fix that; run find for others.',
    );
  });
  test('a calibration that does not fit its trials is said to, before the runs it plans', async () => {
    const scenario = {
      ...(await case_()),
      calibration: { trials: ['A'], fit: { lackOfFit: true } },
    } as never as Scenario;
    const one = run(scenario);
    expect(
      runSheet(scenario, plan(scenario, { runs: [one] }), [expected(one)], await budget()).headline[2],
    ).toBe(
      'The calibration does not fit its own trials within the measuring errors: its bands are wider for it.',
    );
  });
  test.each<readonly [string, Partial<Plan>, string]>([
    [
      'nothing to learn',
      { ends: 'settled' },
      'Stop: no trial is needed. No trial can raise the safe rate by more than 1.3 %; everything not yet determined could move the settings by 4 %.',
    ],
    [
      'nothing that runs',
      { ends: 'nothing' },
      'No trial can be planned. By present knowledge no other settings within the ranges can be run safely.',
    ],
    [
      'too little powder',
      { ends: 'powder', least: cost },
      'No trial can be planned. The list ends because the powder is used up. 5 kg of powder is available above the reserve; the smallest run here takes 7.2 kg (6.7 kg fed, 0.5 kg lost). Shorten the runs (--minutes) or reduce the reserve.',
    ],
    [
      'too little time',
      { ends: 'time', least: cost },
      'No trial can be planned. The list ends because the time is used up. 4 h are available; warming up takes 20 min, and the smallest run 4 min.',
    ],
  ])('%s', async (_, more, words) => {
    const scenario = await case_();
    const sheet = runSheet(scenario, plan(scenario, more), [], { ...(await budget(5)), lossPerRun: 0.5 });
    expect(sheet.headline).toEqual([words]);
    expect(sheet.plan).toBeUndefined();
  });
  test.each([
    [
      'asked',
      'limit',
      /^The settings in question are not in the plan: by present estimates they choke the mill or cross a limit\.$/,
    ],
    ['asked', 'powder', /^The settings in question are not in the plan: the powder left is not enough\.$/],
    [
      'included',
      'time',
      /^The settings included \(rotor 5400 rpm, \S+ 2250 rpm, 200 kg\/h\) are not in the plan: the hours left are not enough\.$/,
    ],
  ] as const)('%s, not run for want of %s', async (why, reason, words) => {
    const scenario = await case_();
    const notRun = [{ why, reason, scenario }];
    expect(
      runSheet(scenario, plan(scenario, { notRun, ends: 'nothing' }), [], await budget()).headline[1],
    ).toMatch(words);
  });
});

describe('what each run is for, and when it is stopped', () => {
  test('the settings in question at four fifths of their feed rate', async () => {
    const scenario = await case_();
    const one = run(await case_(160));
    const sheet = runSheet(scenario, plan(scenario, { runs: [one] }), [expected(one)], await budget());
    expect(sheet.plan!.settles).toEqual([
      'run 1 is at the settings in question, with 80 % of their feed rate; it is to determine wheel cut factor χ_c 19 % → 9.3 %; the answer 12 % → 5 %',
    ]);
  });
  test('the runs stand in the order they were chosen: each begins where the one before left the answer', async () => {
    const scenario = await case_();
    const later = run(scenario, { before: 0.05, after: 0.031, why: 'teaches' });
    const runs = [later, run(scenario, { why: 'teaches' })];
    const rows = runs.map((one) => expected(one));
    const { settles } = runSheet(scenario, plan(scenario, { runs }), rows, await budget()).plan!;
    expect(settles.map((line) => line.replace(/is to .*; /, ''))).toEqual([
      'run 2 the answer 12 % → 5 %',
      'run 1 the answer 5 % → 3.1 %',
    ]);
  });
  test('a band across its limit is said, with both numbers', async () => {
    const scenario = requiring(await case_(), 'outletTemperature <= 40 degC');
    const one = run(scenario, { why: 'included' });
    const warm = runSheet(
      scenario,
      plan(scenario, { runs: [one] }),
      [expected(one, 9000, 313.15)],
      await budget(),
    );
    expect(warm.plan!.settles).toEqual([
      'run 1 was included by name; it is to determine wheel cut factor χ_c 19 % → 9.3 %; the answer 12 % → 5 %',
      'run 1: outlet temperature may reach 45 °C (95 %), its limit is 40 °C: raise the feed rate in steps and watch it.',
    ]);
    // at 5000 rpm and less the motor gives less: a limit that differs is given run by run
    const slow = run(requiring(await demo('settings.rotorSpeed=4000 rpm'), 'outletTemperature <= 40 degC'));
    const both = runSheet(
      scenario,
      plan(scenario, { runs: [one, slow] }),
      [expected(one), expected(slow)],
      await budget(),
    );
    expect(both.plan!.stopRules[0]).toMatch(
      /^Stop a run when it reaches a rotor power of [\d.]+ kW in run 1, [\d.]+ kW in run 2 or 40 °C at the outlet, when the air flow falls below 1350 m³\/h, or the mill sounds wrong/,
    );
    const cool = runSheet(
      scenario,
      plan(scenario, { runs: [one] }),
      [expected(one, 9000, 308.1)],
      await budget(),
    );
    expect(cool.plan!.settles).toHaveLength(1);
  });
});
