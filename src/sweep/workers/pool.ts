import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import type { LawOrigin } from '../../scenario/outside/law-module.ts';
import { packagePath } from '../../scenario/package-folder.ts';
import type { Block, Range } from '../study/column.ts';

/** What a worker is given once, when it starts. */
export interface WorkerSetup<Job> {
  readonly job: Job;
  /** Modules of the user's own, loaded before the job is made ready. */
  readonly laws?: readonly LawOrigin[];
  /** Test hook: a worker that is to evaluate this point ends there instead, as often as the counter says. */
  readonly dieAt?: { readonly point: number; readonly times: Int32Array };
}

/** Evaluates runs of points in threads. Close it. */
export interface Pool {
  readonly threads: number;
  readonly evaluate: (range: Range) => Promise<Block>;
  readonly close: () => Promise<void>;
}

/** Threads used unless told otherwise: one a core. */
export function defaultThreads(): number {
  return availableParallelism();
}

/** What a worker lets pile up before it clears away [MB]: a point leaves little, and a small heap stays in the cache. */
const YOUNG = 2;

/**
 * Starts worker threads. The library's own defaults (one and a half threads a core, a queue without limit) are not
 * used: exactly `threads` run, and the caller keeps few runs waiting.
 *
 * @param setup plain data, cloned to every worker
 * @param script the built worker; by default that of this program
 */
export function startPool<Job>(setup: WorkerSetup<Job>, threads: number, script = builtWorker()): Pool {
  const pool = new Piscina<Range, Block>({
    filename: script,
    workerData: setup,
    minThreads: threads,
    maxThreads: threads,
    maxQueue: 4 * threads + 4,
    recordTiming: false,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
  });
  return { threads, evaluate: (range) => pool.run(range), close: () => pool.destroy() };
}

/** The worker as built JavaScript, bundled, since threads of Node 20 run no TypeScript and a bundle starts sooner. */
function builtWorker(): string {
  const path = packagePath('dist/src/cli/worker.js');
  if (!existsSync(path)) throw new Error(`the built worker ${path} is missing; run npm run build`);
  return path;
}
