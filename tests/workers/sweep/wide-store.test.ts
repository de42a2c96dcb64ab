import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Requirement } from '../../../src/scenario/expression/expression.ts';
import { studyHash } from '../../../src/sweep/store/identity.ts';
import { openStore } from '../../../src/sweep/store/reader.ts';
import { SweepStore } from '../../../src/sweep/store/store.ts';
import type { Block, Range } from '../../../src/sweep/study/column.ts';
import { compileStudy } from '../../../src/sweep/study/compile.ts';
import { temporaryFolder } from './folder.ts';
import { FACTORS, pilotStudy } from './pilot.ts';

const folder = temporaryFolder();
afterAll(folder.remove);

const SIZE = 131_072;

/** A study whose forty requirements make two columns each. */
function wideStudy() {
  const study = pilotStudy({ design: 'sobol', factors: FACTORS, points: SIZE, seed: 1 });
  const line = (size: number): Requirement => ({
    text: `passing(${size} um) >= 1 %`,
    relation: '>=',
    left: { kind: 'quantity', name: 'passing', argument: size * 1e-6 },
    right: { kind: 'number', value: 0.01 },
    shownIn: '%',
  });
  const spec = Array.from({ length: 40 }, (_, k) => line(10 + k));
  return { ...study, scenario: { ...study.scenario, spec } };
}

// A row group of 80 columns does not fit the buffer that does for 40: the database would fail when it folds it in.
test('a wide table is folded in and read back whole, runs stored out of order', async () => {
  const study = wideStudy();
  const { columns, size } = compileStudy(study);
  expect([size, columns.length > 80]).toEqual([SIZE, true]);
  const valueAt = (index: number, c: number): number => {
    const { names, role } = columns[c]!;
    if (names !== undefined) return index % names.length;
    return role === 'meetsSpec' ? index % 2 : index + c / 128;
  };
  const evaluate = ({ first, count }: Range): Block => ({
    first,
    count,
    values: Float64Array.from({ length: count * columns.length }, (_, k) =>
      valueAt(first + (k % count), Math.floor(k / count)),
    ),
  });
  const range = { first: 0, count: SIZE };
  const hash = studyHash(study, '1');
  const wanted = { study, columns, curveSizes: [], size, range, hash, version: '1' };
  const store = await SweepStore.open(join(folder.path, 'sweep.duckdb'), wanted);
  for (let k = 0; k < 16; k++) await store.append(evaluate({ first: ((k * 7) % 16) * 8192, count: 8192 }));
  expect(await store.missing()).toEqual([]);
  await store.close();
  const reader = await openStore(folder.path);
  const { count, index, values } = await reader.rows();
  reader.close();
  expect(count).toBe(SIZE);
  for (let r = 0; r < SIZE; r += 1009) {
    expect(index[r]).toBe(r);
    const row = columns.map(({ name }) => values[name]![r]);
    expect(row).toEqual(columns.map((_, c) => valueAt(r, c)));
  }
}, 120_000);
