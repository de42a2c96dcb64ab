import { spawn } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exportRows } from '../../../src/sweep/store/export.ts';
import { mergeShards } from '../../../src/sweep/store/merge-stores.ts';
import { openStore } from '../../../src/sweep/store/reader.ts';
import { placeOf } from '../../../src/sweep/store/store-path.ts';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import type { Shard } from '../../../src/sweep/study/shard.ts';
import { runSweep, type SweepResult } from '../../../src/sweep/workers/run-sweep.ts';
import { estimate } from '../../../src/sweep/workers/time-estimate.ts';
import { temporaryFolder } from './folder.ts';
import { FACTORS, pilotStudy } from './pilot.ts';

const POINTS = 3000;
const study = pilotStudy({ design: 'sobol', factors: FACTORS, points: POINTS, seed: 11 });
const folder = temporaryFolder();
const place = (name: string): string => join(folder.path, name);
afterAll(folder.remove);

function sweepTo(
  name: string,
  options: { threads: number; shard?: Shard; chunk?: number },
): Promise<SweepResult> {
  return runSweep({ study, out: place(name), version: 'test', ...options });
}

/** All rows as exported, byte by byte. */
async function rowsOf(name: string): Promise<string> {
  return readFileSync(await exportRows(placeOf(place(name)).store, 'csv'), 'latin1');
}

let serial = '';

beforeAll(async () => {
  const { complete, failed } = await sweepTo('serial', { threads: 0 });
  expect(complete).toBe(true);
  expect(failed).toEqual([]);
  serial = await rowsOf('serial');
  expect(serial.split('\n').length).toBe(POINTS + 2);
});

test('the size foretold is that of the store', () => {
  const foretold = estimate(compileStudy(study), POINTS, 1, 1, () => 0).size;
  const stored = statSync(placeOf(place('serial')).store).size;
  expect(Math.abs(foretold / stored - 1)).toBeLessThan(0.25);
});

/** When to kill a sweep: after so many stored blocks and so many milliseconds more. */
interface Kill {
  readonly blocks: number;
  readonly delay: number;
}

/** Runs the sweep in a process of its own; what it prints last, or undefined where it was killed. */
function sweepApart(name: string, kill?: Kill): Promise<string | undefined> {
  const script = fileURLToPath(new URL('../../../dist/tests/workers/sweep/run-pilot.js', import.meta.url));
  const child = spawn(process.execPath, [script, place(name), String(POINTS)]);
  let printed = '';
  let wrong = '';
  child.stdout.on('data', (text: Buffer) => {
    printed += text;
    if (kill && printed.length >= kill.blocks) setTimeout(() => child.kill('SIGKILL'), kill.delay);
  });
  child.stderr.on('data', (text: Buffer) => {
    wrong += text;
  });
  return new Promise((resolve, reject) => {
    child.on('close', (code, signal) => {
      if (signal === 'SIGKILL') resolve(undefined);
      else if (code === 0) resolve(printed.split('\n')[1]);
      else reject(new Error(wrong));
    });
  });
}

describe('the rows are the same, byte by byte, as in one thread', () => {
  test('in two worker threads, whatever the size of a run', async () => {
    await sweepTo('two', { threads: 2, chunk: 37 });
    expect(await rowsOf('two')).toBe(serial);
  });

  test('from four shards, merged', async () => {
    for (const part of [3, 1, 4, 2]) await sweepTo('shards', { threads: 1, shard: { part, of: 4 } });
    expect(await mergeShards([place('shards')], placeOf(place('shards')).store)).toBe(POINTS);
    expect(await rowsOf('shards')).toBe(serial);
  });

  test('after ten kills at random moments', async () => {
    let random = 20_241;
    const next = (below: number): number => {
      random = (random * 16_807) % 2_147_483_647;
      return random % below;
    };
    let kills = 0;
    for (let turn = 0; turn < 10; turn++) {
      if ((await sweepApart('killed', { blocks: 1 + next(4), delay: next(6) })) === undefined) kills++;
    }
    expect(kills).toBe(10);
    const [before, done] = (await sweepApart('killed'))!.split(' ').map(Number);
    expect(before! + done!).toBe(POINTS);
    expect(before!).toBeGreaterThan(100);
    expect(before!).toBeLessThan(POINTS);
    expect(await rowsOf('killed')).toBe(serial);
  }, 240_000);

  test('when asked for in two turns, the second for more points', async () => {
    const few = { ...study, plan: { ...study.plan, points: 1000 } };
    await runSweep({ study: few, out: place('grown'), version: 'test', threads: 2 });
    const grown = await sweepTo('grown', { threads: 2 });
    expect(grown.progress).toMatchObject({ before: 1000, done: 2000 });
    expect(await rowsOf('grown')).toBe(serial);
  });

  test('when a worker dies in the middle of a run, twice', async () => {
    const times = new Int32Array(new SharedArrayBuffer(4));
    times[0] = 2;
    const dieAt = { point: 1234, times };
    const { complete, failed } = await runSweep({
      study,
      out: place('died'),
      version: 'test',
      threads: 2,
      chunk: 64,
      dieAt,
    });
    expect(times[0]).toBeLessThan(1);
    expect(failed).toEqual([]);
    expect(complete).toBe(true);
    expect(await rowsOf('died')).toBe(serial);
  });
});

test('a stopped sweep keeps what is done, and goes on', async () => {
  const controller = new AbortController();
  const stopped = await runSweep({
    study,
    out: place('stopped'),
    version: 'test',
    threads: 2,
    chunk: 64,
    signal: controller.signal,
    onProgress: ({ done }) => {
      if (done > 500) controller.abort();
    },
  });
  expect(stopped.complete).toBe(false);
  const { done } = stopped.progress;
  expect(done).toBeGreaterThan(500);
  expect(done).toBeLessThan(POINTS);
  const { progress } = await sweepTo('stopped', { threads: 2 });
  expect(progress).toMatchObject({ before: done, done: POINTS - done });
  expect(await rowsOf('stopped')).toBe(serial);
});

test('the store read back holds the same numbers and everything a report needs', async () => {
  const store = await openStore(place('serial'));
  const { stored, missing } = store;
  expect(missing).toEqual([]);
  expect(stored.study).toEqual(study);
  const rows = await store.rows();
  expect(rows.count).toBe(POINTS);
  const lines = serial.trim().split('\n');
  const heads = lines[0]!.split(',');
  expect(heads).toEqual(['index', ...stored.columns.map(({ name }) => name)]);
  for (const i of [0, 1, 1717, POINTS - 1]) {
    const cells = lines[i + 1]!.split(',');
    expect(rows.index[i]).toBe(i);
    stored.columns.forEach(({ name, names, role }, c) => {
      const value = rows.values[name]![i]!;
      const cell = cells[c + 1]!;
      if (names !== undefined) expect(names[value] ?? '').toBe(cell);
      else if (role === 'meetsSpec') expect(value === 1).toBe(cell === 'true');
      else expect(Number.isNaN(value) ? '' : value).toBe(cell === '' ? '' : Number(cell));
    });
  }
  const some = await store.rows({ columns: ['x95_um'], where: "status = 'steady'", limit: 5 });
  expect(some.count).toBe(5);
  expect([...some.values.x95_um!].every((x) => x > 0)).toBe(true);
  store.close();
});

test('parquet holds the same rows', async () => {
  const parquet = await exportRows(placeOf(place('serial')).store, 'parquet');
  const { DuckDBInstance } = await import('@duckdb/node-api');
  const instance = await DuckDBInstance.create();
  const connection = await instance.connect();
  const csv = join(folder.path, 'back.csv');
  await connection.run(
    `COPY (SELECT * FROM '${parquet}' ORDER BY "index") TO '${csv}' (FORMAT csv, HEADER true)`,
  );
  instance.closeSync();
  expect(readFileSync(csv, 'latin1')).toBe(serial);
});
