import { resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { measuredTrials } from '../../../src/answers/measured-trials.ts';
import { loadScenario } from '../../../src/scenario/load.ts';
import { valueAs } from '../../../src/scenario/operating-point.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { readTrialLog } from '../../../src/trials/log/file.ts';
import type { LoggedTrial } from '../../../src/trials/log/logged.ts';
import { positionOf } from '../../../src/viz/report/context.ts';
import { controlsOf } from '../../../src/viz/report/controls.ts';
import { runReport } from '../../../src/viz/report/run-report.ts';
import { close } from '../../close.ts';

/** A speed is the same speed however the file, the sweep and the trial log state it: derived, v = π d n. */
const scenarios = resolve(import.meta.dirname, '../../../scenarios');
const RIM = {
  path: 'wheelSpeed',
  measure: { name: 'wheel speed', unit: 'm/s' },
  shownIn: 'm/s',
  as: 'rim',
  values: [10, 50],
} as const;
let scenario: Scenario;
let trials: readonly LoggedTrial[];

beforeAll(async () => {
  scenario = await loadScenario(resolve(scenarios, 'erythritol.yaml'), { set: [] });
  trials = (await readTrialLog(resolve(scenarios, 'data/trials/erythritol.csv'), scenario)).trials;
});

const rimSpeed = ({ machine, settings }: Scenario): number =>
  Math.PI * machine.wheels[settings.wheel]!.geometry.diameter * settings.wheelSpeed.value;

test('the file, in rpm, stands at its rim speed where the sweep runs in m/s', () => {
  expect(scenario.settings.wheelSpeed.as).toBe('shaft');
  const table = { points: 0, factors: [RIM], quantities: [], limits: [], reason: [], reasons: [] };
  close(positionOf(table, scenario).wheelSpeed as number, rimSpeed(scenario), 1e-11);
  close(
    valueAs(scenario, 'settings.wheelSpeed', 'shaft') as number,
    scenario.settings.wheelSpeed.value,
    1e-15,
  );
});

test('a slider over a sweep in m/s stands at the rim speed, and means it', () => {
  const slider = controlsOf(scenario, [RIM]).find(({ path }) => path === 'wheelSpeed')!;
  expect(slider).toMatchObject({ kind: 'number', unit: 'm/s', as: 'rim' });
  close(slider.value as number, rimSpeed(scenario), 1e-11);
});

test('a trial logged in rpm stands at its rim speed', () => {
  const [trial] = trials;
  const [measured] = measuredTrials([trial!], [RIM]);
  close(measured!.at.wheelSpeed as number, rimSpeed(trial!.scenario), 1e-11);
});

test('a run stated in m/s shows the trial run at the same speeds in rpm', () => {
  const trial = trials.find(({ sizes }) => sizes)!;
  const at = trial.scenario;
  const speeds = (as: 'shaft' | 'rim') => ({
    rotorSpeed: { as, value: valueAs(at, 'rotorSpeed', as) as number },
    wheelSpeed: { as, value: valueAs(at, 'wheelSpeed', as) as number },
  });
  const shown = (as: 'shaft' | 'rim') => {
    const same = { ...at, settings: { ...at.settings, ...speeds(as) } };
    const unit = as === 'rim' ? 'm/s' : 'rpm';
    const provenance = { ...at.provenance };
    for (const name of ['settings.rotorSpeed', 'settings.wheelSpeed'])
      provenance[name] = { ...provenance[name]!, unit };
    const made = { version: '0', date: '2026-01-31', audience: 'engineer' } as const;
    const { offer } = runReport({ ...same, provenance }, { ...made, trials: [trial] });
    const figure = offer.figures.find(({ id }) => id === 'size-curve')!;
    return JSON.stringify(figure).includes(trial.name);
  };
  expect(shown('shaft')).toBe(true);
  expect(shown('rim')).toBe(true);
});
