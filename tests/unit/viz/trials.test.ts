import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { measuredSpec } from '../../../src/answers/measured-spec.ts';
import { balanceTable, energyTable, runTable, targetTable } from '../../../src/answers/trial-tables.ts';
import { loadScenario } from '../../../src/scenario/load.ts';
import type { Scenario } from '../../../src/scenario/scenario.ts';
import { readTrialLog } from '../../../src/trials/log/file.ts';
import type { LoggedTrial } from '../../../src/trials/log/logged.ts';
import { runReport } from '../../../src/viz/report/run-report.ts';
import { close } from '../../close.ts';

const scenarios = resolve(import.meta.dirname, '../../../scenarios');
let scenario: Scenario;
let trials: readonly LoggedTrial[];

beforeAll(async () => {
  scenario = await loadScenario(resolve(scenarios, 'erythritol.yaml'), { set: [] });
  trials = (await readTrialLog(resolve(scenarios, 'data/trials/erythritol.csv'), scenario)).trials;
});

const made = { version: '0', date: '2026-01-31' } as const;
const sectionOf = (body: string): string =>
  /<section id="trials">([\s\S]*?)<\/section>/.exec(body)?.[1] ?? '';

describe('the trials in a report', () => {
  test('everything a test centre hands over has its place, in order', () => {
    const { body } = runReport(scenario, { ...made, audience: 'engineer', trials });
    const heads = [...sectionOf(body.text).matchAll(/<h3>(.*?)<\/h3>/g)].map(([, head]) => head!);
    const own = heads.filter((head) => !head.includes('against the target'));
    expect(own).toEqual([
      'Aim',
      'Material and set-up',
      'Runs',
      'Against the target',
      'Mass balance',
      'Energy',
      'What limits, and the settings of the file',
      'Assumptions and cautions of the trials',
    ]);
    expect(heads.filter((head) => head.includes('against the target'))).toHaveLength(trials.length);
    expect(sectionOf(body.text)).toContain('test your own dust');
  });

  test('no trials, no section', () => {
    expect(sectionOf(runReport(scenario, { ...made, audience: 'engineer' }).body.text)).toBe('');
  });

  test('a customer gets the runs, and neither the model nor the wheels’ geometry', () => {
    const { body } = runReport(scenario, { ...made, audience: 'customer', trials });
    const section = sectionOf(body.text);
    expect(section).toContain('E4');
    expect(section).not.toContain('vanes');
    expect(section).not.toContain('>model<');
  });

  test('tables say what the log says (E1 by hand: 5.794 kW at 200 kg/h, 2.599 kW empty; 13.33 kg in, 13.07 and 0.2667 out)', () => {
    const [head, first] = [runTable(trials).heads, runTable(trials).rows[0]!];
    expect(first[head.indexOf('power, kW')]).toBe('5.79');
    const energy = energyTable(trials).rows[0]!;
    close(Number(energy[3]), 5.794 / 0.2, 2e-3);
    close(Number(energy[4]), (5.794 - 2.599) / 0.2, 2e-3);
    const balance = balanceTable(trials).rows[0]!;
    close(Number(balance[2]), 13.07, 1e-3);
    close(Number(balance[3]), 0.2667, 2e-3);
    // reconciled masses balance, to the digits shown
    const [, , , , , fed, product, filter] = balance.map(Number);
    close(product! + filter!, fed!, 3e-4);
    expect(balance.at(-1)).toBe('yes');
  });

  test('the target is judged by measurement alone: a line between two points of the record, and what nobody measured stays open', () => {
    const passing = scenario.spec.find(({ text }) => text.startsWith('passing'))!;
    // E4: 97.24 % below 73.45 µm, 99.06 % below 83.48 µm, straight in ln x
    const share = 0.9724 + 0.0182 * (Math.log(75 / 73.45) / Math.log(83.48 / 73.45));
    const { value, met } = measuredSpec(passing, trials[3]!);
    close(value, share, 1e-4);
    expect(met).toBe(true);
    const outlet = scenario.spec.find(({ text }) => text.startsWith('outlet'))!;
    expect(measuredSpec(outlet, trials[3]!).met).toBeUndefined();
    const rows = targetTable(scenario, trials).rows;
    expect(rows[3]!.at(-1)).toBe('open');
    expect(rows[3]).toContain('not measured');
    // E1, E3 and E5 are coarser than required
    for (const coarse of [0, 2, 4]) expect(rows[coarse]!.at(-1)).toBe('no');
  });
});
