import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { calibrationFile } from '../../../src/trials/calibration/write.ts';
import { fitTrials } from '../../../src/trials/fit/fit.ts';
import { seeded } from '../../../src/trials/random.ts';
import {
  BLIND,
  campaignScenario,
  hiddenTruth,
  measuredRun,
  RUNS,
  scenarioAt,
} from '../../campaign/campaign.ts';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'next-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A scenario with one wheel, calibrated on so many runs of a mill whose coefficients are hidden. */
function calibratedOn(count: number): string {
  const scenario = campaignScenario();
  const random = seeded(1);
  const truth = hiddenTruth(scenario, random);
  const trials = [...RUNS, ...BLIND]
    .slice(0, count)
    .map((at, i) => measuredRun(`run ${i + 1}`, scenarioAt(scenario, at), truth, 'laser', random));
  const fit = fitTrials(scenario, trials, { starts: 1 })!;
  const head = { scenario: scenario.title, log: 'log.csv', trials: [], date: '2026-01-31' };
  const calibration = join(folder, `cal-${count}.yaml`);
  writeFileSync(calibration, calibrationFile(fit, head));
  const file = join(folder, `after-${count}.yaml`);
  const demo = readFileSync(DEMO, 'utf8').replace(/^ {4}wheel: \[.*$/m, '    wheel: [ medium-leaning ]');
  writeFileSync(file, `${demo}calibration: ${calibration}\n`);
  return file;
}

const RICH = ['--set', 'powder.have=500 kg', '--hours', '24'];

describe('next', () => {
  test('says stop once no trial can raise the safe rate, and by how much at most', async () => {
    const file = calibratedOn(RUNS.length + BLIND.length);
    const { code, out, err } = await grindloop('next', file, ...RICH);
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(out).toMatch(/^Stop: no trial is needed/m);
    const [, most] = /No trial can raise the safe rate by more than ([\d.]+) %/.exec(out)!;
    expect(Number(most)).toBeLessThan(2);
    expect(out).not.toContain('RUN SHEET');
    const told = JSON.parse((await grindloop('next', file, ...RICH, '--json')).out);
    expect(told.ends).toBe('settled');
    expect(told.runs).toEqual([]);
    expect(told.settingsUncertainty).toBeLessThan(0.1);
  }, 120_000);

  test('does not say stop of a campaign that has barely begun, nor before the first trial', async () => {
    for (const file of [calibratedOn(1), DEMO]) {
      const { code, out } = await grindloop('next', file, '--trials', '2', ...RICH);
      expect(code).toBe(0);
      expect(out).toMatch(
        /^Run [12] trials?: expected to reduce the uncertainty of the answer from (?:more than )?[\d.]+ % to [\d.]+ %\.$/m,
      );
      expect(out).not.toMatch(/no trial is needed/i);
      expect(out).toContain('RUN SHEET');
      const told = JSON.parse((await grindloop('next', file, '--trials', '2', ...RICH, '--json')).out);
      expect(told.runs.length).toBeGreaterThan(0);
      expect(told.settingsUncertainty).toBeGreaterThan(0.02);
    }
  }, 120_000);
});
