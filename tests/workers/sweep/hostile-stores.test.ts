import { copyFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { exportRows } from '../../../src/sweep/store/export.ts';
import { studyHash } from '../../../src/sweep/store/identity.ts';
import { mergeShards } from '../../../src/sweep/store/merge-stores.ts';
import { readPlainData, writePlainData } from '../../../src/sweep/store/plain-data.ts';
import { ask } from '../../../src/sweep/store/query.ts';
import { openStore } from '../../../src/sweep/store/reader.ts';
import type { Study } from '../../../src/sweep/study/study.ts';
import { runSweep } from '../../../src/sweep/workers/run-sweep.ts';
import { sweepReport } from '../../../src/viz/report/sweep-report.ts';
import { deflate } from '../../../src/viz/write/deflate.ts';
import { temporaryFolder } from './folder.ts';
import { FACTORS, pilotStudy } from './pilot.ts';

const folder = temporaryFolder();
const place = (name: string): string => join(folder.path, name);
const study = pilotStudy({ design: 'sobol', factors: FACTORS, points: 64, seed: 11 });
const SECRET = 'the-secret-of-another-file';
let whole = '';
vi.setConfig({ testTimeout: 180_000 });
afterAll(folder.remove);
beforeAll(async () => {
  writeFileSync(place('secret.txt'), SECRET);
  ({ store: whole } = await runSweep({ study, out: place('whole'), version: 'test', threads: 0 }));
});

let made = 0;

/** A copy of the store with some statements run on it, as somebody could who sends it. */
async function changed(...statements: string[]): Promise<string> {
  const path = place(`changed-${made++}.duckdb`);
  copyFileSync(whole, path);
  const instance = await DuckDBInstance.create(path);
  const connection = await instance.connect();
  for (const statement of statements) await connection.run(statement);
  connection.closeSync();
  instance.closeSync();
  return path;
}

/** Every way a store is opened, each to its message or what it gave back. */
async function everyWay(path: string): Promise<Record<string, string>> {
  const target = `${path}.joined.duckdb`;
  const ways: Record<string, () => Promise<unknown>> = {
    report: async () => {
      const reader = await openStore(path);
      try {
        const rows = await reader.rows();
        const made = {
          date: '2026-01-01',
          version: 'test',
          audience: 'engineer',
          trials: [],
        } as const;
        sweepReport({ stored: reader.stored, rows, ...made }, deflate);
      } finally {
        reader.close();
      }
    },
    sql: () => ask(path, 'select * from points', 5),
    merge: () => mergeShards([path], target),
    export: () => exportRows(path, 'csv'),
    resume: () => runSweep({ study, out: path, version: 'test', threads: 0 }),
  };
  const told: Record<string, string> = {};
  for (const [name, way] of Object.entries(ways)) {
    told[name] = await way().then(
      () => 'accepted',
      (error: Error) => (error.name === 'InputError' ? error.message : `BUG ${error.stack}`),
    );
  }
  for (const file of [target, path.replace('.duckdb', '.csv')]) {
    if (existsSync(file)) expect(readFileSync(file).includes(SECRET)).toBe(false);
  }
  return told;
}

const aside = 'CREATE SCHEMA s; CREATE TABLE s.points AS SELECT * FROM points; DROP TABLE points';
const secret = () => `(SELECT content FROM read_text('${place('secret.txt')}'))`;

test.each<readonly [string, () => string[], RegExp]>([
  [
    'a view that reads a file of this machine in a number',
    () => [
      `${aside}; CREATE VIEW points AS SELECT * REPLACE (length(${secret()})::DOUBLE AS x50_um) FROM s.points`,
    ],
    /holds the view points, which no sweep makes/,
  ],
  [
    'a view that adds a file of this machine as a column',
    () => [`${aside}; CREATE VIEW points AS SELECT *, ${secret()} AS leak FROM s.points`],
    /holds the view points, which no sweep makes/,
  ],
  ['a table of its own', () => ['CREATE TABLE extra (x INTEGER)'], /holds the table extra, which no sweep/],
  ['a schema of its own', () => ['CREATE SCHEMA other'], /holds the schema other, which no sweep makes/],
  [
    'a function named as one of the database',
    () => [
      'CREATE MACRO enum_code(x) AS 1',
      "CREATE MACRO duckdb_tables() AS TABLE SELECT 'study' AS table_name",
    ],
    /holds the function duckdb_tables, which no sweep makes[\s\S]*holds the function enum_code/,
  ],
  [
    'a column more',
    () => [`ALTER TABLE points ADD COLUMN leak VARCHAR DEFAULT 'x'`],
    /its table points has leak VARCHAR where its study has nothing/,
  ],
  [
    'a column of another type',
    () => ['ALTER TABLE points ALTER x50_um TYPE VARCHAR'],
    /its table points has x50_um VARCHAR where its study has x50_um DOUBLE/,
  ],
  [
    'a false number of points',
    () => ["UPDATE study SET value = '1000000000000000' WHERE key = 'size'"],
    /its number of points does not follow from its study/,
  ],
  [
    'a range beyond its points',
    () => [`UPDATE study SET value = '{"first":0,"count":1e15}' WHERE key = 'range'`],
    /its number of points does not follow from its study/,
  ],
  [
    'another unit',
    () => [
      `UPDATE study SET value = replace(value, '"shownIn":"kg/h"', '"shownIn":"t/h"') WHERE key = 'study'`,
    ],
    /its study is not the one that was run|cannot be evaluated/,
  ],
  ['no study', () => ["DELETE FROM study WHERE key = 'study'"], /the study in it cannot be evaluated/],
  [
    'a row less',
    () => ['DELETE FROM points WHERE "index" = 7'],
    /63 rows where its list of runs has 64 points/,
  ],
  [
    'a row twice',
    () => ['UPDATE points SET "index" = 8 WHERE "index" = 7'],
    /64 rows where its list of runs has 64 points/,
  ],
])('a store with %s is refused by name, whatever opens it', async (_, statements, words) => {
  const told = await everyWay(await changed(...statements()));
  // the reading of rows alone shows what is wrong with them; a question in SQL is about what is there
  if (/rows where/.test(words.source)) delete told.sql;
  for (const [way, message] of Object.entries(told)) {
    if (way === 'export' && /rows where/.test(words.source)) continue;
    expect(message, way).toMatch(words);
  }
});

test('a store that is declared complete has been read: a damaged row is found by the sweep that resumes it', async () => {
  const points = { ...study, plan: { ...study.plan, points: 4096 } };
  const { store } = await runSweep({ study: points, out: place('many'), version: 'test', threads: 0 });
  const bytes = readFileSync(store);
  const path = place('flipped.duckdb');
  let found = 0;
  for (let k = 0; k < 12; k++) {
    const copy = Buffer.from(bytes);
    const at = Math.floor(((k + 0.5) / 12) * bytes.length);
    copy[at] = copy[at]! ^ 0x10;
    writeFileSync(path, copy);
    const hash = 'select bit_xor(hash(points)) from points';
    const unreadable = await ask(path, hash, 1).then(
      () => false,
      () => true,
    );
    const resumed = await runSweep({ study: points, out: path, version: 'test', threads: 0 }).then(
      () => 'complete',
      (error: Error) => error.message,
    );
    if (unreadable) expect(resumed).toMatch(/is damaged|cut short|not a store|contains no sweep/);
    // a store opened to be written reads more of its head
    else expect(resumed).toMatch(/^complete$|is damaged|cut short/);
    found += Number(unreadable);
  }
  expect(found).toBeGreaterThan(0);
});

/** Every place of a tree, as keys from its root. */
function placesIn(node: unknown, at: readonly string[] = []): string[][] {
  if (typeof node !== 'object' || node === null) return [[...at]];
  return [[...at], ...Object.entries(node).flatMap(([key, child]) => placesIn(child, [...at, key]))];
}

function withAt(node: unknown, [key, ...rest]: readonly string[], value: unknown): unknown {
  if (key === undefined) return value;
  const copy = structuredClone(node) as Record<string, unknown>;
  copy[key] = withAt(copy[key], rest, value);
  return copy;
}

test('of a study changed at any place and signed anew, nothing ends as a bug', async () => {
  const { study: text } = Object.fromEntries(
    (await ask(whole, "select key, value from study where key = 'study'", 9)).rows,
  );
  const tree = readPlainData(text!);
  const values = [null, 'constructor', -1, 1e15, {}, []];
  const places = placesIn(tree).filter((keys) => keys.length > 1);
  let refused = 0;
  const bugs: string[] = [];
  const step = 23;
  for (let k = 0; k < places.length; k += step) {
    const value = values[(k / step) % values.length];
    const other = withAt(tree, places[k]!, value) as Study;
    let hash = 'none';
    try {
      hash = studyHash(other, 'test');
    } catch {}
    const literal = writePlainData(other).replaceAll("'", "''");
    const path = await changed(
      `UPDATE study SET value = '${literal}' WHERE key = 'study'`,
      `UPDATE study SET value = '${hash}' WHERE key = 'hash'`,
    );
    const told = await everyWay(path);
    if (Object.values(told).every((message) => message !== 'accepted')) refused++;
    for (const [way, message] of Object.entries(told)) {
      if (message.startsWith('BUG'))
        bugs.push(`${places[k]!.join('.')} = ${JSON.stringify(value)}, ${way}: ${message}`);
    }
  }
  expect(bugs).toEqual([]);
  expect(refused).toBeGreaterThan(0);
});
