import { workerData } from 'node:worker_threads';
import { move, transferableSymbol, valueSymbol } from 'piscina';
import type { Block, Evaluate, Range } from '../study/column.ts';
import type { WorkerSetup } from './pool.ts';

/**
 * The task of a worker thread: evaluates runs of points, handing the columns over without a copy.
 *
 * @param start makes the evaluation from the job, once
 */
export function workerTask<Job>(start: (job: Job) => Evaluate): (range: Range) => Block {
  const setup = workerData as WorkerSetup<Job>;
  const evaluate = start(setup.job);
  return (range) => {
    dieIfTold(setup, range);
    return handedOver(evaluate(range));
  };
}

/** A block whose columns change hands instead of being copied; what arrives is the block itself. */
function handedOver(block: Block): Block {
  const buffers = [block.values, block.curves].flatMap((array) =>
    array === undefined ? [] : [array.buffer],
  );
  return move({ [transferableSymbol]: buffers, [valueSymbol]: block } as never) as unknown as Block;
}

/** Ends this thread in the middle of a run where a test asks for it. */
function dieIfTold<Job>({ dieAt }: WorkerSetup<Job>, { first, count }: Range): void {
  if (dieAt === undefined || dieAt.point < first || dieAt.point >= first + count) return;
  if (Atomics.sub(dieAt.times, 0, 1) > 0) process.exit(1);
}
