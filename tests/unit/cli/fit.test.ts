import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
const TRIALS = 'scenarios/data/trials/erythritol.csv';
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fit-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('fit', () => {
  test('writes a calibration that run takes up, answer first', async () => {
    const calibration = join(folder, 'cal.yaml');
    const fitted = await grindloop('fit', DEMO, '--trials', TRIALS, '-o', calibration);
    expect(fitted.err).toBe('');
    expect(fitted.code).toBe(0);
    expect(fitted.out.split('\n')[2]).toMatch(
      /^5 trials determine \d+ of 19 coefficients \([\d.]+ effective parameters\)/,
    );
    expect(fitted.out).toContain('ISO 13320');
    const scenario = join(folder, 'calibrated.yaml');
    writeFileSync(scenario, `calibration: ${resolve(calibration)}\n${readFileSync(DEMO, 'utf8')}`);
    const ran = await grindloop('run', scenario, '--json');
    const outcome = JSON.parse(ran.out);
    expect(outcome.calibration).toMatchObject({
      label: 'fitted',
      log: 'erythritol.csv',
      trials: ['E1', 'E2', 'E3', 'E4', 'E5'],
    });
    expect(outcome.calibration.probabilityOfSpec).toBeLessThanOrEqual(1);
    expect(
      outcome.spec.every(({ probability }: { probability: number }) => probability >= 0 && probability <= 1),
    ).toBe(true);
    const fines = outcome.assumptions.find(
      ({ name }: { name: string }) => name === 'material.fragments.exponent',
    );
    expect(fines.label).toBe('fitted');
    const plain = await grindloop('run', scenario);
    expect(plain.out).toContain('Calibrated on E1, E2, E3, E4 and E5: ');
    expect(plain.out).toMatch(
      /of \d+ samples from the calibration \d+ % meet the whole spec and \d+ % choke/,
    );
    // a fit starts from the file's own coefficients, so that fitting again changes nothing
    const second = join(folder, 'again.yaml');
    const again = await grindloop('fit', scenario, '--trials', TRIALS, '-o', second);
    expect(again.code).toBe(0);
    expect(again.out).toContain("is left out: a fit starts from the file's own coefficients");
    const valuesIn = (file: string) => parse(readFileSync(file, 'utf8')).values;
    expect(valuesIn(second)).toEqual(valuesIn(calibration));
  });

  test('reports every run as data', async () => {
    const { out, code } = await grindloop(
      'fit',
      DEMO,
      '--trials',
      TRIALS,
      '--starts',
      '1',
      '--json',
      '--without',
      'E5',
    );
    expect(code).toBe(0);
    const report = JSON.parse(out);
    expect(report.runs.map(({ name }: { name: string }) => name)).toEqual(['E1', 'E2', 'E3', 'E4']);
    for (const { curve, percentiles, closure } of report.runs) {
      expect(curve.measured.length).toBe(curve.model.length);
      expect(Math.abs(percentiles[1].model / percentiles[1].measured - 1)).toBeLessThan(0.1);
      expect(closure.closes).toBe(true);
    }
    expect(report.correlations.matrix.length).toBe(report.coefficients.length);
  });

  test('bad input is named, one line each, with code 1', async () => {
    const log = join(folder, 'bad.csv');
    writeFileSync(log, 'trial;wheel speed [Hz];sizes\nA;25;none.csv\n');
    const missing = await grindloop('fit', DEMO, '--trials', log);
    expect(missing.code).toBe(1);
    expect(missing.err).toContain('none.csv: cannot be read: there is no such file');
    const unknown = await grindloop('fit', DEMO, '--trials', TRIALS, '--without', 'E9');
    expect(unknown.err).toContain('no run E9; there are E1, E2');
    expect((await grindloop('fit', DEMO)).code).toBe(1);
  });
});

describe('find', () => {
  test('exits with 2 and the nearest miss where nothing meets the spec', async () => {
    const spec = 'spec=["passing(10 um) >= 99 %"]';
    const { code, out } = await grindloop('find', 'scenarios/mineral-filler.yaml', '--set', spec);
    expect(code).toBe(2);
    expect(out).toContain('no settings within the ranges meet the whole spec');
    expect(out).toMatch(/It misses "99 % below 10 µm" by \d+ percentage points\./);
  });

  test('what it finds, run confirms from the line it prints', async () => {
    const { code, out } = await grindloop('find', 'scenarios/mineral-filler.yaml', '--json');
    expect(code).toBe(0);
    const { best } = JSON.parse(out);
    const ran = await grindloop(
      'run',
      'scenarios/mineral-filler.yaml',
      '--json',
      ...best.set.flatMap((text: string) => ['--set', text]),
    );
    expect(JSON.parse(ran.out).spec.every(({ met }: { met: boolean }) => met)).toBe(true);
  });

  test('a confidence that is none is refused', async () => {
    const { code, err } = await grindloop('find', DEMO, '--confidence', '120 %');
    expect(code).toBe(1);
    expect(err).toContain('between 50 % and 99.5 %');
  });
});
