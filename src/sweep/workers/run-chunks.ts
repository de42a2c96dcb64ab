import type { Block, Range } from '../study/column.ts';
import { chunksOf, describeRange } from '../study/range.ts';

/** A point that could not be evaluated: a bug, with what the program said. */
export interface FailedPoint {
  readonly index: number;
  readonly message: string;
}

/** Points to be evaluated and stored, and how. */
interface RunRequest {
  readonly ranges: readonly Range[];
  /** Most points in one run. */
  readonly chunk: number;
  /** Runs on the way at once: a few more than threads, so that none waits while a block is stored. */
  readonly lanes: number;
  readonly evaluate: (range: Range) => Promise<Block>;
  /** Takes a finished block; must be whole or nothing. */
  readonly store: (block: Block) => Promise<void>;
  /** No run starts once aborted; those on the way are finished and stored. */
  readonly signal?: AbortSignal;
}

/** Failed points after which the rest is not tried. */
const MOST_FAILURES = 20;

/**
 * Evaluates and stores all points of some ranges, in chunks. A run that fails (its worker died, or a point threw) is
 * made once more; if it fails again it is halved until the one point at fault is found, so that the others are stored.
 *
 * @returns the points at fault
 * @throws what `store` throws, after the other lanes have come to rest
 */
export async function runChunks(request: RunRequest): Promise<FailedPoint[]> {
  const failed: FailedPoint[] = [];
  const chunks = chunksOf(request.ranges, request.chunk);
  let halted: { readonly by: unknown } | undefined;
  const lane = async (): Promise<void> => {
    for (const chunk of chunks) {
      if (halted !== undefined || request.signal?.aborted) return;
      try {
        await evaluateAndStore(request, chunk, failed);
      } catch (error) {
        halted ??= { by: error };
      }
    }
  };
  await Promise.all(Array.from({ length: request.lanes }, lane));
  if (halted !== undefined) throw halted.by;
  return failed.sort((a, b) => a.index - b.index);
}

async function evaluateAndStore(request: RunRequest, range: Range, failed: FailedPoint[]): Promise<void> {
  const first = await attempt(request, range);
  const result = first instanceof Error ? await attempt(request, range) : first;
  if (!(result instanceof Error)) return request.store(result);
  if (range.count === 1) {
    failed.push({ index: range.first, message: result.message });
    if (failed.length < MOST_FAILURES) return;
    throw new Error(`${MOST_FAILURES} points failed, the last ${describeRange(range)}: ${result.message}`);
  }
  const half = Math.ceil(range.count / 2);
  await evaluateAndStore(request, { first: range.first, count: half }, failed);
  await evaluateAndStore(request, { first: range.first + half, count: range.count - half }, failed);
}

async function attempt(request: RunRequest, range: Range): Promise<Block | Error> {
  try {
    return await request.evaluate(range);
  } catch (error) {
    return error instanceof Error ? error : new Error(String(error));
  }
}
