import { workerData } from 'node:worker_threads';
import { move, transferableSymbol, valueSymbol } from 'piscina';
import type { LawOrigin } from '../../scenario/outside/law-module.ts';
import type { Block, Evaluate, Range } from '../study/column.ts';
import type { WorkerSetup } from './pool.ts';

/**
 * The task of a worker thread: loads the laws the program was given, then evaluates runs of points, handing the columns over without a copy.
 *
 * @param start makes the evaluation from the job, once
 */
export function workerTask<Job>(start: (job: Job) => Evaluate): (range: Range) => Promise<Block> {
  const setup = workerData as WorkerSetup<Job>;
  const { job, laws = [] } = setup;
  // no await at the top of the module: the pool may load it synchronously
  const evaluate = laws.length > 0 ? loadTheSame(laws).then(() => start(job)) : start(job);
  if (evaluate instanceof Promise) evaluate.catch(() => undefined); // said by the first run
  return async (range) => {
    const ready = await evaluate;
    dieIfTold(setup, range);
    return handedOver(ready(range));
  };
}

/**
 * Loads modules of laws as the main thread has them.
 *
 * @throws Error where a file has changed since
 */
async function loadTheSame(laws: readonly LawOrigin[]): Promise<void> {
  const { loadLaws } = await import('../../scenario/load-laws.ts');
  const loaded = await loadLaws(...laws.map(({ path }) => path!));
  loaded.forEach(({ name, version }, at) => {
    if (version !== laws[at]!.version) throw new Error(`${name} has changed since the sweep began`);
  });
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
