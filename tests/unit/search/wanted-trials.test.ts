import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { toCase } from '../../../src/scenario/operating-point.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { type SearchSpace, searchSpace } from '../../../src/search/find/space.ts';
import { budgetOf } from '../../../src/search/next/budget.ts';
import { planTrials } from '../../../src/search/next/plan.ts';
import { crossings, stopLimits } from '../../../src/search/next/stop-limits.ts';
import { posteriorOf } from '../../../src/trials/calibration/take-up.ts';
import type { Posterior } from '../../../src/trials/fit/fit.ts';
import { close } from '../../close.ts';

const DEMO = resolve(import.meta.dirname, '../../../scenarios/erythritol.yaml');
let scenario: Scenario;
let posterior: Posterior;
let space: SearchSpace;
const rich = (): ReturnType<typeof budgetOf> =>
  budgetOf({ ...scenario, powder: { have: 500, reserve: 0, lossPerRun: 0.5, minimumRun: 2 } }, 24);

beforeAll(async () => {
  scenario = await loadScenario(DEMO);
  posterior = posteriorOf(scenario);
  space = searchSpace(scenario) as SearchSpace;
});

describe('runs a plan must hold', () => {
  test('one at the settings asked about, and every wheel in question by the third', () => {
    const { answer, runs } = planTrials(scenario, space, posterior, rich(), { count: 3, method: 'laser' });
    const asked = runs.filter(({ why }) => why === 'asked');
    expect(asked).toHaveLength(1);
    const [at, best] = [asked[0]!.trial.scenario, answer.scenario].map((one) => toCase(one).settings);
    close(at!.rotorSpeed, best!.rotorSpeed, 1e-12);
    close(at!.wheelSpeed, best!.wheelSpeed, 1e-12);
    // an optimum lies at its limit: the trial backs off in feed rate alone, to half at most
    expect(at!.feedRate / best!.feedRate).toBeLessThanOrEqual(1);
    expect(at!.feedRate / best!.feedRate).toBeGreaterThanOrEqual(0.5);
    const wheels = runs.map(({ trial }) => trial.scenario.settings.wheel);
    expect(new Set(wheels).size).toBe(Math.min(3, Object.keys(scenario.machine.wheels).length));
  }, 60_000);

  test('settings included by name are planned as they are, or said not to be and why', async () => {
    const at = await loadScenario(DEMO, {
      set: ['settings.wheel=long-leaning', 'settings.wheelSpeed=1500 rpm', 'settings.feedRate=100 kg/h'],
    });
    const plan = planTrials(scenario, space, posterior, rich(), { count: 1, method: 'laser', include: [at] });
    const included = plan.runs.find(({ why }) => why === 'included')!;
    expect(included.trial.scenario.settings).toEqual(at.settings);
    const greedy = await loadScenario(DEMO, { set: ['settings.feedRate=100 kg/h'] });
    const poor = budgetOf(
      { ...scenario, powder: { have: 3, reserve: 0, lossPerRun: 0.5, minimumRun: 2 } },
      24,
    );
    const short = planTrials(scenario, space, posterior, poor, {
      count: 1,
      method: 'laser',
      include: [greedy],
    });
    expect(short.notRun.find(({ why }) => why === 'included')?.reason).toBe('powder');
    const wild = await loadScenario(DEMO, { set: ['settings.feedRate=5000 kg/h'] });
    const choked = planTrials(scenario, space, posterior, rich(), {
      count: 1,
      method: 'laser',
      include: [wild],
    });
    expect(choked.notRun.find(({ why }) => why === 'included')?.reason).toBe('limit');
  }, 120_000);
});

describe('when to stop a run', () => {
  test('limits are numbers: the share of the motor and the temperature of the spec, nine tenths of the air', () => {
    const { power, temperature, airFlow } = stopLimits(scenario);
    // by hand: 15 kW at and above 5000 rpm, motorLoad <= 90 %, outletTemperature <= 50 °C, 1500 m³/h
    close(power, 13.5e3, 1e-9);
    close(temperature!, 323.15, 1e-9);
    close(airFlow, 1350 / 3600, 1e-9);
    const bare = { ...scenario, spec: [] };
    close(stopLimits(bare).power, 15e3, 1e-9);
    expect(stopLimits(bare).temperature).toBeUndefined();
  });

  test('a reading whose band crosses its limit is named, one that does not is not', () => {
    const band = (low: number, median: number, high: number) => ({ low, median, high });
    const limits = { power: 13.5e3, temperature: 323.15, airFlow: 0.4 };
    const x = band(1e-5, 2e-5, 3e-5);
    const readings = { power: band(8e3, 10e3, 13.6e3), temperature: band(305, 310, 323), x50: x, x95: x };
    expect(crossings(readings, limits)).toEqual([{ reading: 'power', limit: 13.5e3, high: 13.6e3 }]);
    expect(crossings({ ...readings, power: band(8e3, 10e3, 13.4e3) }, limits)).toEqual([]);
  });
});
