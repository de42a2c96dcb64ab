import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import type { Block } from '../../../src/sweep/study/column.ts';
import { pointsIn } from '../../../src/sweep/study/range.ts';
import { startPool } from '../../../src/sweep/workers/pool.ts';
import { runChunks } from '../../../src/sweep/workers/run-chunks.ts';
import { type ToyJob, toyEvaluate } from './toy.ts';

const script = fileURLToPath(new URL('../../../dist/tests/workers/sweep/toy-worker.js', import.meta.url));

async function run(
  job: ToyJob,
  store: (block: Block) => Promise<void>,
  dieAt?: { point: number; times: Int32Array },
) {
  const pool = startPool({ job, ...(dieAt && { dieAt }) }, 2, script);
  try {
    const ranges = [{ first: 0, count: 400 }];
    return await runChunks({ ranges, chunk: 64, lanes: 4, evaluate: pool.evaluate, store });
  } finally {
    await pool.close();
  }
}

test('a point that throws is the only one missing, and is named', async () => {
  const blocks: Block[] = [];
  const failed = await run({ quantities: 2, work: 10, broken: 201 }, async (block) => {
    blocks.push(block);
  });
  expect(failed).toEqual([{ index: 201, message: 'point 201 is broken' }]);
  expect(pointsIn(blocks)).toBe(399);
  expect(blocks.every(({ first, count }) => 201 < first || 201 >= first + count)).toBe(true);
  const own = toyEvaluate({ quantities: 2, work: 10 });
  for (const block of blocks) expect(block.values).toEqual(own(block).values);
});

test('a point that kills every worker is the only one missing', async () => {
  const blocks: Block[] = [];
  const times = new Int32Array(new SharedArrayBuffer(4)).fill(1000);
  const failed = await run(
    { quantities: 2, work: 10 },
    async (block) => {
      blocks.push(block);
    },
    { point: 77, times },
  );
  expect(failed.map(({ index }) => index)).toEqual([77]);
  expect(pointsIn(blocks)).toBe(399);
});

test('a store that fails stops the run with its own words', async () => {
  let stored = 0;
  const full = async (): Promise<void> => {
    stored++;
    if (stored === 3) throw new Error('the disk is full');
  };
  await expect(run({ quantities: 2, work: 10 }, full)).rejects.toThrow('the disk is full');
  expect(stored).toBeLessThan(7);
});
