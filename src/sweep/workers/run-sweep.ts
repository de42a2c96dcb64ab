import { setImmediate } from 'node:timers/promises';
import { InputError } from '../../scenario/errors.ts';
import type { LawOrigin } from '../../scenario/outside/law-module.ts';
import { registeredModules } from '../../scenario/outside/registered.ts';
import { ROW_GROUP } from '../store/database.ts';
import { studyHash } from '../store/identity.ts';
import { MOST_POINTS } from '../store/schema.ts';
import { SweepStore } from '../store/store.ts';
import { placeOf } from '../store/store-path.ts';
import type { StoredStudy } from '../store/stored-study.ts';
import type { Block, Range } from '../study/column.ts';
import { type CompiledStudy, compileStudy } from '../study/compile.ts';
import type { Progress } from '../study/progress.ts';
import { pointsIn } from '../study/range.ts';
import { type Shard, shardRange } from '../study/shard.ts';
import type { Study } from '../study/study.ts';
import { REASONS } from '../study/study-columns.ts';
import { type Pool, startPool, type WorkerSetup } from './pool.ts';
import { type FailedPoint, runChunks } from './run-chunks.ts';
import { timePerPoint } from './time-estimate.ts';

/** A sweep to run, or to go on with. */
export interface SweepRequest {
  readonly study: Study;
  /** Folder or `.duckdb` file. */
  readonly out: string;
  /** Program version, part of what a store must match. */
  readonly version: string;
  /** Worker threads; 0 evaluates in this thread. */
  readonly threads: number;
  readonly shard?: Shard;
  /** Told after every stored block. */
  readonly onProgress?: (progress: Progress) => void;
  /** Stops after the runs on the way. */
  readonly signal?: AbortSignal;
  /** Points in one run and transaction; chosen by their speed where absent. */
  readonly chunk?: number;
  /** Test hook, see `WorkerSetup`. */
  readonly dieAt?: WorkerSetup<Study>['dieAt'];
}

/** How a sweep ended. */
export interface SweepResult {
  /** Path of the store. */
  readonly store: string;
  readonly progress: Progress;
  /** Whether every point asked for is stored. */
  readonly complete: boolean;
  readonly failed: readonly FailedPoint[];
}

/**
 * Runs a sweep, or goes on with one: asks the store what is missing, evaluates that in worker threads and stores it
 * block by block.
 *
 * @throws InputError where the store is in use, foreign, of another sweep or not to be written
 */
export async function runSweep(request: SweepRequest): Promise<SweepResult> {
  const { study, shard } = request;
  const compiled = compileStudy(study);
  const place = placeOf(request.out, shard);
  const store = await SweepStore.open(place.store, storedAs(request, compiled));
  try {
    const missing = await store.missing();
    const tally = tallyOf(store.stored.range.count, missing, request.onProgress);
    const failed =
      missing.length === 0
        ? []
        : await evaluateMissing(request, compiled, missing, async (block) => {
            await store.append(block);
            tally.add(block, compiled);
          });
    const progress = tally.progress();
    return { store: place.store, progress, complete: progress.done === progress.total, failed };
  } finally {
    await store.close();
  }
}

function storedAs({ study, version, shard }: SweepRequest, compiled: CompiledStudy): StoredStudy {
  const { size, columns, curveSizes } = compiled;
  if (size > MOST_POINTS) {
    const message = `gives ${size} points; a store holds at most ${MOST_POINTS}`;
    throw new InputError([{ place: 'sweep', message }]);
  }
  const range = shard === undefined ? { first: 0, count: size } : shardRange(shard, size);
  return { study, columns, curveSizes, size, range, version, hash: studyHash(study, version) };
}

async function evaluateMissing(
  request: SweepRequest,
  compiled: CompiledStudy,
  ranges: readonly Range[],
  store: (block: Block) => Promise<void>,
): Promise<FailedPoint[]> {
  const { study, signal, dieAt } = request;
  const threads = Math.min(request.threads, pointsIn(ranges)); // no thread is started for nothing
  const chunk = request.chunk ?? chunkFor(compiled, pointsIn(ranges), Math.max(threads, 1));
  const pool =
    threads === 0
      ? inThisThread(compiled)
      : startPool({ job: study, laws: lawsForThreads(study), ...(dieAt && { dieAt }) }, threads);
  try {
    const lanes = threads === 0 ? 1 : threads + 2;
    const stop = signal === undefined ? {} : { signal };
    return await runChunks({ ranges, chunk, lanes, evaluate: pool.evaluate, store, ...stop });
  } finally {
    await pool.close();
  }
}

/** @throws InputError where a law has no file that a thread could load */
function lawsForThreads({ lawModules = {} }: Study): readonly LawOrigin[] {
  const used = registeredModules().filter(({ name }) => Object.hasOwn(lawModules, name));
  const faults = used.flatMap(({ name, path }) =>
    path === undefined
      ? [
          {
            place: 'threads',
            message: `must be 0: the laws of ${name} were registered in code; put them into a file and load it with loadLaws`,
          },
        ]
      : [],
  );
  if (faults.length > 0) throw new InputError(faults);
  return used;
}

function inThisThread({ evaluate }: CompiledStudy): Pool {
  return {
    threads: 0,
    evaluate: async (range) => {
      await setImmediate();
      return evaluate(range);
    },
    close: async () => {},
  };
}

/**
 * How long a run should take, at most [s]: Ctrl-C waits for it, and a kill loses it. Long enough that a busy machine still
 * fills row groups: shorter runs are stored twice and cost a fifth more processor time.
 */
const RUN_TIME = 1.5;

/** A power of two that keeps a run short and gives every thread several, at most a row group of the store. */
function chunkFor(compiled: CompiledStudy, points: number, threads: number): number {
  const bySpeed = RUN_TIME / timePerPoint(compiled, () => performance.now() / 1000);
  const most = Math.min(bySpeed, points / (4 * threads), ROW_GROUP);
  return 2 ** Math.max(0, Math.floor(Math.log2(most)));
}

function tallyOf(size: number, missing: readonly Range[], onProgress: SweepRequest['onProgress']) {
  const total = pointsIn(missing);
  const start = performance.now();
  const choked: Record<string, number> = Object.fromEntries(REASONS.map((reason) => [reason, 0]));
  let done = 0;
  const progress = (): Progress => {
    const elapsed = (performance.now() - start) / 1000;
    return { total, done, before: size - total, choked: { ...choked }, elapsed };
  };
  const add = (block: Block, { columns }: CompiledStudy): void => {
    done += block.count;
    const at = columns.findIndex(({ role }) => role === 'reason') * block.count;
    for (let r = 0; r < block.count; r++) {
      const reason = REASONS[block.values[at + r]!];
      if (reason !== undefined) choked[reason]!++;
    }
    onProgress?.(progress());
  };
  return { progress, add };
}
