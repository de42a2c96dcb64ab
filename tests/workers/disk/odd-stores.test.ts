import { spawn } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { uniform } from '../../reference/random-cases.ts';
import { temporaryFolder } from '../sweep/folder.ts';
import { contentOf, DEMO, grindloop, PROGRAM, SMALL } from './program.ts';
import { prepare } from './writers.ts';

const folder = temporaryFolder();
const place = (...names: string[]): string => join(folder.path, ...names);
const sweepWords = (out: string): string[] => ['sweep', DEMO, ...SMALL, '-o', out, '--export', 'csv'];
const rowsOf = (out: string): string => readFileSync(join(out, 'sweep.csv'), 'latin1');
vi.setConfig({ testTimeout: 300_000, hookTimeout: 180_000 });
let rows = '';

beforeAll(() => {
  prepare(place('source'));
  expect(grindloop(sweepWords(place('source', 'swept'))).code).toBe(0);
  rows = rowsOf(place('source', 'swept'));
});
afterAll(folder.remove);

const OVERWRITTEN = 'a store with a block overwritten';

describe('what is no store is left as it is, by every command that opens one', () => {
  const whole = place('source', 'swept', 'sweep.duckdb');
  const MADE: readonly (readonly [string, (path: string) => void])[] = [
    ['an empty file', (path) => writeFileSync(path, '')],
    ['one byte', (path) => writeFileSync(path, 'x')],
    ['text', (path) => writeFileSync(path, 'size;share\n'.repeat(5000))],
    ['a folder', (path) => mkdirSync(path)],
    [
      'a store whose head is lost',
      (path) => {
        const bytes = readFileSync(whole);
        bytes.fill(0, 0, 4096);
        writeFileSync(path, bytes);
      },
    ],
    [
      OVERWRITTEN,
      (path) => {
        const bytes = readFileSync(whole);
        bytes.fill(0xa5, Math.floor(bytes.length / 2), Math.floor(bytes.length / 2) + 300_000);
        writeFileSync(path, bytes);
      },
    ],
  ];
  test.each(MADE)('%s', (name, make) => {
    const path = place(`${name.replaceAll(' ', '-')}.duckdb`);
    make(path);
    const before = contentOf(folder.path);
    const commands = [
      sweepWords(path),
      ['report', path, '-o', place('page.html')],
      ['sql', path, 'select * from points'],
      ['merge', path, '-o', place('joined.duckdb')],
    ];
    for (const words of commands) {
      const { code, err } = grindloop(words);
      expect(err, words.join(' ')).not.toMatch(/this is a bug|\n\s+at /);
      // the block may be one that holds nothing: then the store is whole
      expect(name === OVERWRITTEN ? [0, 1] : [1], `${words.join(' ')}: ${err}`).toContain(code);
    }
    if (name !== OVERWRITTEN) expect(contentOf(folder.path)).toEqual(before);
  });

  test('a store cut off at any of eight lengths', () => {
    const { size } = statSync(whole);
    const random = uniform(7);
    for (let turn = 0; turn < 8; turn++) {
      const path = place('cut.duckdb');
      copyFileSync(whole, path);
      truncateSync(path, Math.floor(size * random()));
      const before = readFileSync(path);
      const { code, err } = grindloop(sweepWords(path));
      expect(err).toMatch(/cut short|damaged|not a store|contains no sweep/);
      expect(code).toBe(1);
      expect(readFileSync(path).equals(before)).toBe(true);
      expect(existsSync(`${path}.wal`)).toBe(false);
    }
  });
});

test('two that begin at once: one sweeps, the other says so, and the rows are the same', async () => {
  const start = (out: string): Promise<readonly [number | null, string]> =>
    new Promise((done) => {
      const child = spawn(process.execPath, [PROGRAM, ...sweepWords(out)]);
      let err = '';
      child.stderr.on('data', (text) => {
        err += text;
      });
      child.on('close', (code) => done([code, err]));
    });
  for (let turn = 0; turn < 2; turn++) {
    const out = place(`both-${turn}`);
    const ends = await Promise.all([start(out), start(out)]);
    for (const [code, err] of ends) {
      expect([0, 1]).toContain(code);
      if (code === 1) expect(err).toMatch(/in use by another process; not changed/);
    }
    expect(grindloop(sweepWords(out)).code).toBe(0);
    expect(rowsOf(out) === rows).toBe(true);
  }
});

test('a clock that runs backwards, and files from the future, change nothing', () => {
  const out = place('clock');
  const backwards = `data:text/javascript,${encodeURIComponent(
    'const start = Date.UTC(2030, 1, 1); let calls = 0; Date.now = () => start - 1e6 * calls++;' +
      'const turn = performance.now.bind(performance); let k = 0; performance.now = () => turn() - 40 * k++;',
  )}`;
  const env = { ...process.env, NODE_OPTIONS: `--import=${backwards}` };
  const halfway = ['--shard', '1/2'];
  expect(grindloop([...sweepWords(out), ...halfway], { env })).toMatchObject({ code: 0 });
  const future = new Date(Date.UTC(2100, 0, 1));
  for (const path of Object.keys(contentOf(out))) utimesSync(path, future, future);
  const resumed = grindloop([...sweepWords(out), ...halfway], { env });
  expect(resumed).toMatchObject({ code: 0, err: '' });
  expect(grindloop([...sweepWords(out), '--shard', '2/2'])).toMatchObject({ code: 0 });
  expect(grindloop(['merge', out], { env })).toMatchObject({ code: 0 });
  for (const path of Object.keys(contentOf(out))) utimesSync(path, new Date(0), new Date(0));
  const whole = grindloop(sweepWords(out), { env });
  expect(whole).toMatchObject({ code: 0, err: '' });
  expect(rowsOf(out) === rows).toBe(true);
});
