import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { temporaryFolder } from '../sweep/folder.ts';
import { contentOf, DEMO, grindloop, grindloopWithin, SMALL } from './program.ts';
import { type SmallDisk, smallDisk } from './small-disk.ts';
import { furnish, prepare, WRITERS } from './writers.ts';

const folder = temporaryFolder();
const source = join(folder.path, 'source');
const FULL = /cannot be written, the disk is full/;
// Every test starts the program, seconds each on a busy machine.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

/** Room beside what stands there already, so that a small file fits and a page or a store does not [KiB]. */
const ROOM = 4;
let disk: SmallDisk | undefined;

beforeAll(() => {
  prepare(source);
  disk = smallDisk(60_000);
  if (disk === undefined) process.stderr.write('no disk can be mounted here: its tests are left out\n');
});
afterAll(() => {
  disk?.remove();
  folder.remove();
});

/** Fills the disk up to `left` KiB. */
function fill(at: string, left: number): void {
  const page = Buffer.alloc(4096);
  writeFileSync(join(at, 'filler'), '');
  try {
    for (;;) writeFileSync(join(at, 'filler'), page, { flag: 'a' });
  } catch {
    const size = statSync(join(at, 'filler')).size;
    writeFileSync(join(at, 'filler'), Buffer.alloc(Math.max(0, size - 1024 * left)));
  }
}

describe('no room for the file', () => {
  beforeAll(() => furnish(join(folder.path, 'limited'), source));

  test.each(WRITERS)('$name: said in words, the older file whole, nothing left behind', ({ words }) => {
    const at = join(folder.path, 'limited');
    const before = contentOf(at);
    const { code, err } = grindloopWithin(0, words(at));
    expect(err).toMatch(FULL);
    expect(code).toBe(1);
    expect(contentOf(at)).toEqual(before);
  });

  test('sweep and merge leave no half-made store', () => {
    const at = join(folder.path, 'limited');
    const before = contentOf(at);
    for (const words of [
      ['sweep', DEMO, ...SMALL, '-o', join(at, 'fresh')],
      ['merge', join(at, 'shards'), '-o', join(at, 'joined.duckdb')],
    ]) {
      const { code, err } = grindloopWithin(100, words);
      expect(err).toMatch(FULL);
      expect(code).toBe(1);
      expect(contentOf(at)).toEqual(before);
    }
  });
});

/** Writers of every way of writing: the others write as one of these does. */
const KINDS = ['report of a run', 'fit', 'export, csv', 'export, parquet'];

describe('a disk that is full', () => {
  test.each(WRITERS.filter(({ name }) => KINDS.includes(name)))('$name', ({ words }) => {
    if (disk === undefined) return;
    const at = join(disk.path, 'full');
    rmSync(join(disk.path, 'filler'), { force: true });
    furnish(at, source);
    fill(disk.path, ROOM - 4);
    const before = contentOf(at);
    const { code, err } = grindloop(words(at));
    expect(err).toMatch(FULL);
    expect(code).toBe(1);
    expect(contentOf(at)).toEqual(before);
  });

  test('merge, and the same again with room', () => {
    if (disk === undefined) return;
    const at = join(disk.path, 'full');
    rmSync(join(disk.path, 'filler'), { force: true });
    furnish(at, source);
    fill(disk.path, 500);
    const before = contentOf(at);
    const words = ['merge', join(at, 'shards'), '-o', join(at, 'joined.duckdb')];
    const { code, err } = grindloop(words);
    expect(err).toMatch(FULL);
    expect(code).toBe(1);
    expect(contentOf(at)).toEqual(before);
    rmSync(join(disk.path, 'filler'));
    expect(grindloop(words).code).toBe(0);
  });

  test('a sweep that fills it goes on once there is room, to the same rows', () => {
    if (disk === undefined) return;
    const many = [
      '--set',
      'sweep={ design: sobol, points: 8000, factors: { rotorSpeed: { from: 4000 rpm, to: 7000 rpm }, wheelSpeed: { from: 1000 rpm, to: 5000 rpm } } }',
    ];
    const words = (out: string) => ['sweep', DEMO, ...many, '--threads', '2', '-o', out, '--export', 'csv'];
    rmSync(join(disk.path, 'full'), { recursive: true, force: true });
    rmSync(join(disk.path, 'filler'), { force: true });
    mkdirSync(join(disk.path, 'grown'));
    disk.resize(3000);
    const stopped = grindloop(words(join(disk.path, 'grown')));
    expect(stopped.err).toMatch(FULL);
    expect(stopped.code).toBe(1);
    const stored = grindloop(['sql', join(disk.path, 'grown'), 'select count(*) from points']).out;
    expect(Number(stored.trim().split('\n').at(-1))).toBeGreaterThan(0);
    disk.resize(90_000);
    const goesOn = grindloop(words(join(disk.path, 'grown')));
    expect(goesOn.err.replace(/^\d.*\n/gm, '')).toBe('');
    expect(goesOn.code).toBe(0);
    expect(Number(stored.trim().split('\n').at(-1))).toBeLessThan(8000);
    expect(grindloop(words(join(folder.path, 'undisturbed'))).code).toBe(0);
    const rows = (out: string) => readFileSync(join(out, 'sweep.csv'), 'latin1');
    expect(rows(join(disk.path, 'grown')) === rows(join(folder.path, 'undisturbed'))).toBe(true);
  });
});
