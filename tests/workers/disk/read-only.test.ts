import { chmodSync, chownSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { temporaryFolder } from '../sweep/folder.ts';
import { contentOf, DEMO, grindloop, SMALL } from './program.ts';
import { type SmallDisk, smallDisk } from './small-disk.ts';
import { furnish, prepare, WRITERS } from './writers.ts';

const folder = temporaryFolder();
const at = join(folder.path, 'locked');
const NO_PERMISSION = /cannot be written: no permission in that folder/;
/** Root may write anywhere, so there the program runs as the account nobody. */
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;
const asNobody = isRoot ? { uid: NOBODY, gid: NOBODY, env: { ...process.env, HOME: folder.path } } : {};
let disk: SmallDisk | undefined;
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

beforeAll(() => {
  prepare(join(folder.path, 'source'));
  furnish(at, join(folder.path, 'source'));
  chmodSync(folder.path, 0o755);
  lock(at);
  disk = smallDisk(60_000);
});
afterAll(() => {
  disk?.remove();
  if (!isRoot) unlock(at);
  folder.remove();
});

function lock(path: string): void {
  for (const { name } of readdirSync(path, { withFileTypes: true }).filter((one) => one.isDirectory()))
    lock(join(path, name));
  if (isRoot) chownSync(path, 0, 0);
  chmodSync(path, isRoot ? 0o755 : 0o555);
}

function unlock(path: string): void {
  chmodSync(path, 0o755);
  for (const { name } of readdirSync(path, { withFileTypes: true }).filter((one) => one.isDirectory()))
    unlock(join(path, name));
}

const STORES: readonly (readonly [string, (folder: string) => readonly string[]])[] = [
  ['sweep into a new store', (to) => ['sweep', DEMO, ...SMALL, '-o', join(to, 'fresh')]],
  ['merge', (to) => ['merge', join(to, 'shards'), '-o', join(to, 'joined.duckdb')]],
];
const KINDS = ['new', 'run, figure', 'report of a sweep', 'fit', 'export, csv', 'export, parquet'];
const ALL = [
  ...WRITERS.filter(({ name }) => KINDS.includes(name)).map(({ name, words }) => [name, words] as const),
  ...STORES,
];

describe('a folder that may not be written', () => {
  test.each(ALL)('%s', (_, words) => {
    const before = contentOf(at);
    const { code, err } = grindloop(words(at), asNobody);
    expect(err).toMatch(NO_PERMISSION);
    expect(code).toBe(1);
    expect(contentOf(at)).toEqual(before);
  });
});

describe('a disk mounted read-only', () => {
  test.each(ALL.filter(([name]) => /new|csv|merge/.test(name)))('%s', (name, words) => {
    if (disk === undefined) return;
    disk.allowWriting(true);
    const on = join(disk.path, 'work');
    furnish(on, join(folder.path, 'source'));
    disk.allowWriting(false);
    const before = contentOf(on);
    const { code, err } = grindloop(words(on));
    expect(err).toMatch(NO_PERMISSION);
    expect(code).toBe(1);
    expect(contentOf(on)).toEqual(before);
    if (name === 'merge') {
      const reads = ['sql', join(on, 'swept'), 'select count(*) from points'];
      expect(grindloop(reads).code, 'what only reads still runs').toBe(0);
    }
    disk.allowWriting(true);
  });
});
