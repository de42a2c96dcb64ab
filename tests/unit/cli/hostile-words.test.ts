import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runHere } from '../../program.ts';

const DEMO = resolve('scenarios/erythritol.yaml');
const TRIALS = resolve('scenarios/data/trials/erythritol.csv');
const ONE_RUN = resolve('tests/fixtures/one-run.csv');
const SIZES = resolve('scenarios/data/trials/run-1.csv');
let folder = '';
const at = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'words-'));
  for (const [from, to] of [
    [DEMO, 'lot.yaml'],
    [TRIALS, 'log.csv'],
    [SIZES, 'run-1.csv'],
  ] as const)
    copyFileSync(from, at(to));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('words that broke the program once are refused at their place', () => {
  test.each([
    [
      ['fit', DEMO, '--trials', TRIALS, '--starts', '1e9'],
      /^--starts: must be a whole number from 1 to 100, is 1000000000/,
    ],
    [['fit', DEMO, '--trials', TRIALS, '--seed', '-1'], /^--seed: must be a whole number from 0/],
    [['read', SIZES, '--total', '0'], /^--total: must be a number above 0/],
    [['read', SIZES, '--density', '-5'], /^--density: must be a number above 0/],
    [['next', DEMO, '--hours', '1e999'], /^--hours: must be a finite number/],
    [['find', DEMO, '--seed', 'many'], /^--seed: must be a number \(decimal point, no comma\)$/m],
    [['sql', 'none', 'select 1', '--rows', '0'], /^--rows: must be a whole number from 1/],
    [['check', ' '], /^file: must not be empty/],
    [['read', '\u202e'], /^\(a name without letters\): cannot be read/],
    [['read', 'a\u001b[2Jb'], /^a \[2Jb: cannot be read/],
    [['run', DEMO, '--set.x=1'], /^run has no option --set\.x; did you mean --set\?$/m],
    [['read', '/dev/zero'], /^\/dev\/zero: cannot be read: it is no regular file/],
    [['report', '/dev/null'], /^\/dev\/null: contains no sweep/],
    [['merge', `${DEMO}/x`, '-o', 'joined'], /erythritol\.yaml\/x: (contains no shard|cannot be created)/],
    [
      ['sweep', DEMO, '-o', `${DEMO}/x`],
      /erythritol\.yaml\/x.*: cannot be created: part of the path is a file/,
    ],
    [['lesson', '-o', '/dev/full'], /^\/dev\/full: cannot be written, the disk is full/],
    [['lesson', '-o', 'nowhere/a.html'], /there is no folder nowhere; make it first/],
    [['lesson', '-o', tmpdir()], /is a folder; name a file in it/],
    [['run', 'a'.repeat(5000)], /cannot be read/],
    [
      ['time', DEMO, '--set', 'time.duration=277 h', '--set', 'time.step=10 ms'],
      /^time\.step: gives 99720000 steps over .* min, at most 100000 are taken; make it \S+ s or more/,
    ],
    [['run', DEMO, '--set', 'machine.stages=1000'], /machine\.stages: must be ≤ 100, is 1000/],
    [
      ['sweep', DEMO, '--dry-run', '--set', 'sweep.factors.rotorSpeed.steps=1000000'],
      /^--set: sweep\.factors\.rotorSpeed\.steps: must be ≤ 100000, is 1000000\n$/,
    ],
  ])('%j', async (words, message) => {
    const { code, out, err } = await runHere(words);
    expect(err).toMatch(message);
    expect(err).not.toMatch(/this is a bug|\n\s+at /);
    expect(out).toBe('');
    expect(code).toBe(1);
  });

  test('a file of 100 MB, and a link to itself', async () => {
    writeFileSync(at('big.csv'), 'size um;undersize %\n');
    truncateSync(at('big.csv'), 100_000_000);
    symlinkSync('loop', at('loop'));
    expect((await runHere(['read', at('big.csv')])).err).toMatch(/larger than 64 MB/);
    expect((await runHere(['check', at('big.csv')])).err).toMatch(/larger than 4 MB/);
    expect((await runHere(['fit', DEMO, '--trials', at('big.csv')])).err).toMatch(/larger than 64 MB/);
    for (const command of ['check', 'read', 'report', 'merge']) {
      const { code, err } = await runHere([command, at('loop')]);
      expect(err).toMatch(/loop/);
      expect(code).toBe(1);
    }
    rmSync(at('big.csv'));
  });
});

describe('a file that is there is replaced only by one of its own kind', () => {
  test.each([
    ['a scenario by a page', ['report', DEMO, '-o'], 'lot.yaml'],
    ['a log by a calibration', ['fit', DEMO, '--trials', ONE_RUN, '--starts', '1', '-o'], 'log.csv'],
    ['a measured curve by a run sheet', ['next', DEMO, '--trials', '1', '-o'], 'run-1.csv'],
    ['a scenario by a picture', ['run', DEMO, '--figure', 'balance', '--svg'], 'lot.yaml'],
    ['a scenario by a scenario', ['new'], 'lot.yaml'],
  ])('%s', async (_, words, name) => {
    const before = readFileSync(at(name));
    const { code, err } = await runHere([...words, at(name)]);
    expect(err).toMatch(new RegExp(`${name}: exists already`));
    expect(code).toBe(1);
    expect(readFileSync(at(name)).equals(before)).toBe(true);
  });

  test('a table of points by an export', async () => {
    writeFileSync(at('points.csv'), 'mine\n1\n');
    const steps = ['rotorSpeed', 'wheelSpeed', 'feedRate'].flatMap((name) => [
      '--set',
      `sweep.factors.${name}={ from: ${name === 'feedRate' ? '100 kg/h, to: 200 kg/h' : '4000 rpm, to: 5000 rpm'}, steps: 2 }`,
    ]);
    const { code, err } = await runHere([
      ...['sweep', DEMO, ...steps, '-o', at('points.duckdb'), '--threads', '1', '--export', 'csv'],
    ]);
    expect(err).toMatch(/points\.csv: exists already and is not an export of a sweep; not changed/);
    expect(code).toBe(1);
    expect(readFileSync(at('points.csv'), 'utf8')).toBe('mine\n1\n');
    rmSync(at('points.duckdb'));
  }, 60_000);

  test('an older page, and an empty file, are; rights and links stay', async () => {
    const first = await runHere(['lesson', '-o', at('page.html')]);
    expect(first.code).toBe(0);
    const { size } = statSync(at('page.html'));
    writeFileSync(at('page.html'), '<!doctype html>\nolder', { mode: 0o600 });
    symlinkSync('page.html', at('link.html'));
    expect((await runHere(['lesson', '-o', at('link.html')])).code).toBe(0);
    expect(statSync(at('page.html')).size).toBe(size);
    writeFileSync(at('empty.html'), '');
    expect((await runHere(['lesson', '-o', at('empty.html')])).code).toBe(0);
    expect(readdirSync(folder).filter((name) => /part$/.test(name))).toEqual([]);
  });

  test('nor is one that is write-protected', async () => {
    writeFileSync(at('kept.html'), '<!doctype html>\nkept', { mode: 0o444 });
    for (const words of [
      ['lesson', '-o'],
      ['new', '--force'],
    ]) {
      const { code, err } = await runHere([...words, at('kept.html')]);
      expect(err).toMatch(/kept\.html: is write-protected; not changed\. Name another file/);
      expect(code).toBe(1);
    }
    expect(readFileSync(at('kept.html'), 'utf8')).toBe('<!doctype html>\nkept');
  });

  test('what a killed process left half-written goes with the next write', async () => {
    const { hostname } = await import('node:os');
    const dead = `${at('page.html')}.${hostname()}.999999999.part`;
    const others = `${at('page.html')}.another-host.999999999.part`;
    for (const path of [dead, others]) writeFileSync(path, '<!doctype');
    expect((await runHere(['lesson', '-o', at('page.html')])).code).toBe(0);
    expect(existsSync(dead)).toBe(false);
    expect(existsSync(others)).toBe(true);
    rmSync(others);
  });

  test('a store whose name has a colon is a file, not an extension of the database', async () => {
    const back = process.cwd();
    process.chdir(folder);
    try {
      const points =
        'sweep={ design: sobol, points: 4, factors: { feedRate: { from: 100 kg/h, to: 200 kg/h } } }';
      const out = ['-o', 'a:b.duckdb', '--threads', '1', '--export', 'parquet'];
      const { code, err } = await runHere(['sweep', DEMO, '--set', points, ...out]);
      expect(err).toBe('');
      expect(code).toBe(0);
      expect(existsSync('a:b.duckdb') && existsSync('a:b.parquet')).toBe(true);
    } finally {
      process.chdir(back);
    }
  }, 60_000);
});
