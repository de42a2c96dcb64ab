import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loadScenario } from '../../../src/scenario/load.ts';
import { readTrialLog } from '../../../src/trials/log/file.ts';
import { grindloop } from '../../program.ts';

const DEMO = 'scenarios/erythritol.yaml';
let folder: string;
let good: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'bad-day-'));
  cpSync('scenarios/data/trials', folder, { recursive: true });
  good = readFileSync(join(folder, 'erythritol.csv'), 'utf8');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function logWith(name: string, ...changes: (readonly [RegExp, string])[]): string {
  const path = join(folder, name);
  const text = changes.reduce((all, [from, to]) => all.replace(from, to), good);
  expect(text).not.toBe(good);
  writeFileSync(path, text);
  return path;
}

describe('a trial log on a bad day', () => {
  test('every fault is named at once: files, names, wheels, units', async () => {
    const log = logWith(
      'many.csv',
      [/run-2\.csv/, 'run-9.csv'],
      [/^E3/m, 'E1'],
      [/medium-leaning;300/, 'medium-leanin;300'],
      [/^E5;5700;23\.33/m, 'E5;95;23.33'],
    );
    for (const words of [
      ['fit', DEMO],
      ['report', DEMO],
    ]) {
      const out = join(folder, `${words[0]}-never.yaml`);
      const { code, err } = await grindloop(...words, '--trials', log, '-o', out);
      expect(code).toBe(1);
      expect(err).toMatch(/run-9\.csv: cannot be read: there is no such file/);
      expect(err).toMatch(/several runs are named E1 \(line 2, line 4\): give each its own name/);
      expect(err).toMatch(/line 5 wheel: .*did you mean medium-leaning\?/);
      expect(err).toMatch(
        /line 6 rotorSpeed: is 95 rpm, below 2 % .* read in Hz or m\/s\? then write that unit/,
      );
      expect(err.trim().split('\n')).toHaveLength(4);
      expect(existsSync(out)).toBe(false);
    }
  });

  test('decimal commas are read as such', async () => {
    const comma = join(folder, 'comma.csv');
    writeFileSync(comma, good.replace(/(\d)\.(\d)/g, '$1,$2'));
    // read alike, they are fitted alike
    const scenario = await loadScenario(DEMO);
    const [one, other] = await Promise.all(
      [comma, join(folder, 'erythritol.csv')].map((path) => readTrialLog(path, scenario)),
    );
    // but for the name of the file they are read from
    const text = (log: typeof one) => JSON.stringify(log!.trials).replaceAll('comma.csv', 'erythritol.csv');
    expect(text(one)).toBe(text(other));
    expect(one!.trials).toHaveLength(5);
  });

  test('a frequency under a heading of rpm is refused for the wheel, too', async () => {
    const log = logWith('hertz.csv', [/wheel speed \[Hz\]/, 'wheel speed [rpm]']);
    const { code, err } = await grindloop('fit', DEMO, '--trials', log);
    expect(code).toBe(1);
    expect(err.match(/wheelSpeed: is \S+ rpm, below 2 %/g)).toHaveLength(5);
  });

  test('wrong options, a missing scenario and a missing log are told together', async () => {
    const { code, err } = await grindloop('fit', 'none.yaml', '--trials', 'none.csv', '--starts', '0');
    expect(code).toBe(1);
    expect(err).toMatch(/--starts: must be a whole number/);
    expect(err).toMatch(/none\.yaml/);
    const next = await grindloop('next', DEMO, '--trials', '9', '--set', 'powder.have=8 kgs');
    expect(next.err).toMatch(/--trials: must be a whole number from 1 to 5/);
    expect(next.err).toMatch(/powder\.have/);
    expect((await grindloop('next', DEMO, '--hours', '1,5')).err).toMatch(/decimal point, no comma/);
  });
});

describe('an answer that cannot be kept', () => {
  test('is told all the same, the fault after it, and nothing half written stays', async () => {
    const nowhere = join(folder, 'nowhere', 'cal.yaml');
    const fitted = await grindloop(
      'fit',
      DEMO,
      '--trials',
      join(folder, 'erythritol.csv'),
      '--starts',
      '1',
      '-o',
      nowhere,
    );
    expect(fitted.code).toBe(1);
    expect(fitted.out).toMatch(/^5 trials determine/m);
    expect(fitted.out).not.toContain('Written to');
    expect(fitted.err).toMatch(/there is no folder .*make it first/);
    const sheet = await grindloop('next', DEMO, '--trials', '1', '-o', join(folder, 'nowhere', 'sheet.html'));
    expect(sheet.code).toBe(1);
    expect(sheet.out).toContain('RUN SHEET');
    expect(sheet.err).toMatch(/make it first/);
    expect(readdirSync(folder)).not.toContain('nowhere');
  });
});

describe('too little powder for one run', () => {
  test('says what is there and what the smallest run takes', async () => {
    const { code, out } = await grindloop('next', DEMO, '--set', 'powder.have=6 kg');
    expect(code).toBe(2);
    expect(out).toMatch(
      /1 kg of powder is available above the reserve; the smallest run here takes (\S+) kg \((\S+) kg fed, 0\.5 kg lost\)/,
    );
    const least = Number(/takes (\S+) kg/.exec(out)![1]);
    expect(least).toBeGreaterThan(2);
    const enough = await grindloop('next', DEMO, '--set', `powder.have=${5 + least + 0.05} kg`);
    expect(enough.code).toBe(0);
  });
});
