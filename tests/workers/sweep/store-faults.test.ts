import { spawn, spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { exportRows } from '../../../src/sweep/store/export.ts';
import { storeFault } from '../../../src/sweep/store/fault.ts';
import { mergeShards } from '../../../src/sweep/store/merge-stores.ts';
import { ask } from '../../../src/sweep/store/query.ts';
import { openStore } from '../../../src/sweep/store/reader.ts';
import { runSweep } from '../../../src/sweep/workers/run-sweep.ts';
import { temporaryFolder } from './folder.ts';
import { FACTORS, pilotStudy } from './pilot.ts';

const study = (points: number, seed = 11) => pilotStudy({ design: 'sobol', factors: FACTORS, points, seed });
const folder = temporaryFolder();
const place = (name: string): string => join(folder.path, name);
const sweepTo = (name: string, points = 200, seed = 11) =>
  runSweep({ study: study(points, seed), out: place(name), version: 'test', threads: 0 });
const script = fileURLToPath(new URL('../../../dist/tests/workers/sweep/run-pilot.js', import.meta.url));
afterAll(folder.remove);
// Whole sweeps and processes of their own: seconds each on a busy machine.
vi.setConfig({ testTimeout: 180_000 });

let store = '';
beforeAll(async () => {
  ({ store } = await sweepTo('whole'));
});

async function wordsOf(run: () => Promise<unknown>): Promise<string> {
  try {
    await run();
  } catch (error) {
    expect((error as Error).name).toBe('InputError');
    return (error as Error).message;
  }
  throw new Error('nothing was refused');
}

describe('a file that is no store of this sweep is refused in clear words and left as it was', () => {
  const refused = async (name: string, words: RegExp): Promise<void> => {
    const before = readFileSync(place(name));
    expect(await wordsOf(() => sweepTo(name))).toMatch(words);
    expect(readFileSync(place(name)).equals(before)).toBe(true);
  };

  test('text', async () => {
    writeFileSync(place('text.duckdb'), 'not a database\n'.repeat(2000));
    await refused('text.duckdb', /text\.duckdb: is not a store of a sweep/);
  });

  test('a store cut in half', async () => {
    copyFileSync(store, place('half.duckdb'));
    truncateSync(place('half.duckdb'), 1_000_000);
    await refused('half.duckdb', /is cut short: 1000000 of at least \d+ bytes/);
    expect(await wordsOf(() => openStore(place('half.duckdb')))).toMatch(/is cut short/);
  });

  test('a store cut off in its head', async () => {
    copyFileSync(store, place('head.duckdb'));
    truncateSync(place('head.duckdb'), 5000);
    await refused('head.duckdb', /damaged or cut short/);
  });

  test('a database of another program', async () => {
    const { DuckDBInstance } = await import('@duckdb/node-api');
    const instance = await DuckDBInstance.create(place('other.duckdb'));
    const connection = await instance.connect();
    await connection.run('CREATE TABLE points (x DOUBLE)');
    connection.closeSync();
    instance.closeSync();
    await refused('other.duckdb', /is a database, but contains no sweep/);
  });

  test('another sweep, naming what differs', async () => {
    copyFileSync(store, place('seed.duckdb'));
    const before = readFileSync(place('seed.duckdb'));
    const words = await wordsOf(() => sweepTo('seed.duckdb', 200, 12));
    expect(words).toMatch(/already holds a different sweep; not changed/);
    expect(words).toMatch(/design\.seed: 12 here, 11 in the store/);
    expect(readFileSync(place('seed.duckdb')).equals(before)).toBe(true);
  });

  test('a folder of ours that is a file', async () => {
    writeFileSync(place('plain'), 'x');
    await refused('plain', /is a file; name a folder/);
  });
});

test('the second of two processes says so and leaves the store alone', async () => {
  const child = spawn(process.execPath, [script, place('busy'), '200000']);
  await new Promise((resolve) => child.stdout.once('data', resolve));
  const words = `in use by another process; not changed (process ${child.pid})`;
  expect(await wordsOf(() => sweepTo('busy', 200_000))).toContain(words);
  expect(await wordsOf(() => openStore(place('busy')))).toContain(words);
  const ended = new Promise((resolve) => child.once('close', resolve));
  child.kill('SIGKILL');
  await ended;
  const reader = await openStore(place('busy'));
  const rows = await reader.rows({ columns: ['status'] });
  expect(rows.count).toBeGreaterThan(0);
  expect(rows.count + reader.missing.reduce((sum, { count }) => sum + count, 0)).toBe(200_000);
  reader.close();
});

test('a full disk is named, and what was stored before stays', async () => {
  await runSweep({ study: study(2000), out: place('full'), version: 'test', threads: 0 });
  const before = readFileSync(await exportRows(join(place('full'), 'sweep.duckdb'), 'csv'), 'utf8');
  const size = Math.ceil(readFileSync(join(place('full'), 'sweep.duckdb')).length / 1024) + 500;
  const limited = `trap '' XFSZ; ulimit -f ${size}; exec "$0" "$@"`;
  const { stderr, status } = spawnSync(
    'bash',
    ['-c', limited, process.execPath, script, place('full'), '20000'],
    {
      encoding: 'utf8',
    },
  );
  expect(status).not.toBe(0);
  expect(stderr).toMatch(/the disk is full; what was stored before is intact/);
  const { progress } = await runSweep({
    study: study(60_000),
    out: place('full'),
    version: 'test',
    threads: 2,
  });
  expect(progress.before).toBeGreaterThanOrEqual(2000);
  const after = readFileSync(await exportRows(join(place('full'), 'sweep.duckdb'), 'csv'), 'utf8');
  expect(after.startsWith(before)).toBe(true);
});

test('an export that fails leaves the older file', async () => {
  mkdirSync(place('export'));
  copyFileSync(store, join(place('export'), 'sweep.duckdb'));
  const target = join(place('export'), 'sweep.csv');
  writeFileSync(target, 'index,older\n');
  const limited = `trap '' XFSZ; ulimit -f 4; exec "$0" "$@"`;
  const code = `const { exportRows } = await import(process.argv[1]); await exportRows(process.argv[2], 'csv');`;
  const built = fileURLToPath(new URL('../../../dist/src/sweep/store/export.js', import.meta.url));
  const node = [
    process.execPath,
    '--input-type=module',
    '-e',
    code,
    built,
    join(place('export'), 'sweep.duckdb'),
  ];
  const { stderr, status } = spawnSync('bash', ['-c', limited, ...node], { encoding: 'utf8' });
  expect(status).not.toBe(0);
  expect(stderr).toMatch(/sweep\.csv: cannot be written, the disk is full/);
  expect(readFileSync(target, 'utf8')).toBe('index,older\n');
  expect(readdirSync(place('export')).sort()).toEqual(['sweep.csv', 'sweep.duckdb']);
});

// Not even root may make a folder under /sys; where there is no /sys the words alone are checked.
test('a folder without write permission is named', async () => {
  if (existsSync('/sys/kernel')) {
    const out = '/sys/kernel/sweep';
    const words = await wordsOf(() => runSweep({ study: study(10), out, version: 'test', threads: 0 }));
    expect(words).toMatch(/\/sys\/kernel\/sweep.*no permission in that folder/);
  }
  const denied = Object.assign(new Error('EACCES: permission denied'), { code: 'EACCES' });
  expect(storeFault('x', denied).message).toBe('x: cannot be written: no permission in that folder');
});

test('what is unknown stays the error it was', () => {
  const bug = new TypeError('x is not a function');
  expect(storeFault('x', bug)).toBe(bug);
});

test('nothing can be changed or read elsewhere by a question', async () => {
  const { heads, rows, more } = await ask(
    place('whole'),
    'select status, count(*) n from points group by 1 order by 1',
    9,
  );
  expect(heads).toEqual(['status', 'n']);
  expect(rows.reduce((sum, [, n]) => sum + Number(n), 0)).toBe(200);
  expect(more).toBe(false);
  expect((await ask(place('whole'), 'from points', 7)).rows.length).toBe(7);
  expect(await wordsOf(() => ask(place('whole'), 'delete from points', 9))).toMatch(/read-only/);
  expect(await wordsOf(() => ask(place('whole'), "from read_csv('/etc/passwd')", 9))).toMatch(/disabled/);
  const copy = `copy points to '${place('stolen.csv')}'`;
  expect(await wordsOf(() => ask(place('whole'), copy, 9))).toMatch(/disabled/);
  expect(await wordsOf(() => ask(place('whole'), 'select nonsense from points', 9))).toMatch(
    /^sql: .*nonsense/,
  );
});

describe('merge', () => {
  const shard = (name: string, part: number, of: number, points = 200) =>
    runSweep({ study: study(points), out: place(name), version: 'test', threads: 0, shard: { part, of } });
  const merged = (name: string): string => join(place(name), 'sweep.duckdb');

  test('names a gap by its points and its neighbours', async () => {
    for (const part of [1, 2, 4]) await shard('gap', part, 4);
    const words = await wordsOf(() => mergeShards([place('gap')], merged('gap')));
    expect(words).toMatch(
      /points 100 to 149 are in none of the shards \(after shard-2-of-4\.duckdb, before shard-4-of-4/,
    );
    expect(existsSync(merged('gap'))).toBe(false);
  });

  test('names an overlap by its points and both shards', async () => {
    for (const part of [1, 2]) await shard('lap', part, 2);
    await shard('lap', 2, 3);
    const words = await wordsOf(() => mergeShards([place('lap')], merged('lap')));
    expect(words).toMatch(
      /shard-2-of-3\.duckdb: overlaps .*shard-1-of-2\.duckdb: points 66 to 99 are in both/,
    );
    expect(words).toMatch(
      /shard-2-of-2\.duckdb: overlaps .*shard-2-of-3\.duckdb: points 100 to 132 are in both/,
    );
  });

  test('names an unfinished shard and one of another sweep', async () => {
    const controller = new AbortController();
    await shard('odd', 1, 2);
    const half = { study: study(200), out: place('odd'), version: 'test', threads: 0, chunk: 16 };
    const onProgress = (): void => controller.abort();
    await runSweep({ ...half, shard: { part: 2, of: 2 }, signal: controller.signal, onProgress });
    expect(await wordsOf(() => mergeShards([place('odd')], merged('odd')))).toMatch(
      /shard-2-of-2\.duckdb: is unfinished, points 112 to 199 missing; run its sweep again/,
    );
    const other = { ...half, study: study(200, 12), out: place('strange'), shard: { part: 2, of: 2 } };
    await runSweep(other);
    const paths = [join(place('odd'), 'shard-1-of-2.duckdb'), join(place('strange'), 'shard-2-of-2.duckdb')];
    expect(await wordsOf(() => mergeShards(paths, merged('odd')))).toMatch(
      /strange.*is of another sweep than .*odd.*design\.seed: 12 here, 11 in that/,
    );
  });

  test('says where shards wait to be joined, and leaves an older store', async () => {
    for (const part of [1, 2]) await shard('wait', part, 2);
    expect(await wordsOf(() => openStore(place('wait')))).toMatch(/holds shards only \(2 of them\).*merge/);
    await mergeShards([place('wait')], merged('wait'));
    expect(await wordsOf(() => mergeShards([place('wait')], merged('wait')))).toMatch(
      /exists already; not changed\. Delete it or name another -o/,
    );
    expect(await wordsOf(() => openStore(place('nowhere')))).toMatch(/contains no sweep/);
  });
});
