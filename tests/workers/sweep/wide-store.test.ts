import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { openStore } from '../../../src/sweep/store/reader.ts';
import { SweepStore } from '../../../src/sweep/store/store.ts';
import { temporaryFolder } from './folder.ts';
import { FACTORS, pilotStudy } from './pilot.ts';
import { toyColumns, toyEvaluate } from './toy.ts';

const folder = temporaryFolder();
afterAll(folder.remove);

// A row group of 80 columns does not fit the buffer that does for 40: the database would fail when it folds it in.
test('a wide table is folded in and read back whole, runs stored out of order', async () => {
  const job = { quantities: 80, work: 0 };
  const columns = toyColumns(job);
  const size = 131_072;
  const study = pilotStudy({ design: 'grid', factors: FACTORS });
  const wanted = {
    study,
    columns,
    curveSizes: [],
    size,
    range: { first: 0, count: size },
    hash: 'h',
    version: '1',
  };
  const store = await SweepStore.open(join(folder.path, 'sweep.duckdb'), wanted);
  const evaluate = toyEvaluate(job);
  for (let k = 0; k < 16; k++) await store.append(evaluate({ first: ((k * 7) % 16) * 8192, count: 8192 }));
  expect(await store.missing()).toEqual([]);
  await store.close();
  const reader = await openStore(folder.path);
  const { count, index, values } = await reader.rows({ columns: ['u', 'status', 'q79'] });
  reader.close();
  expect(count).toBe(size);
  const own = evaluate({ first: 0, count: size });
  for (let r = 0; r < size; r += 1009) {
    expect(index[r]).toBe(r);
    expect([values.u![r], values.status![r], values.q79![r]]).toEqual([
      own.values[r],
      own.values[size + r],
      own.values[81 * size + r],
    ]);
  }
}, 120_000);
