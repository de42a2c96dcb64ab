import type { CompiledStudy } from '../study/compile.ts';

/** What a sweep is going to take. */
export interface Estimate {
  /** Time of one point in one thread, computing and storing [s]. */
  readonly perPoint: number;
  /** With the threads asked for [s]. */
  readonly time: number;
  /** Of the store [byte]. */
  readonly size: number;
}

/** Bytes a stored number takes: measured 8 with 53 columns of the demonstration, 10 with 27. */
const BYTES_PER_VALUE = 9;

/** An empty store [byte]. */
const EMPTY_STORE = 1.4e6;

/** Part of a core that storing a point takes [s]: measured 4 µs for 37 columns. */
const STORING_PER_VALUE = 1.2e-7;

/** Points tried at most, and how long trying may take [s]. */
const TRIED = 512;
const TRYING = 0.4;

/**
 * Times some points spread over the design, after as many to warm up.
 *
 * @param clock seconds, e.g. from performance.now
 */
export function timePerPoint({ size, evaluate }: CompiledStudy, clock: () => number): number {
  const step = Math.max(1, Math.floor(size / TRIED));
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 2; round++) {
    const start = clock();
    let tried = 0;
    for (let index = 0; index < size && (tried === 0 || clock() - start < TRYING); index += step) {
      attempt(evaluate, index);
      tried++;
    }
    best = Math.min(best, (clock() - start) / tried);
  }
  return Math.max(best, FASTEST); // a clock set back meanwhile counts as none
}

/** No point takes less [s]. */
const FASTEST = 1e-6;

/** A point that throws is found and named when it is run; here it only takes its time. */
function attempt(evaluate: CompiledStudy['evaluate'], index: number): void {
  try {
    evaluate({ first: index, count: 1 });
  } catch {
    // nothing: see above
  }
}

/** Time and size of `points` points on so many threads and cores. */
export function estimate(
  study: CompiledStudy,
  points: number,
  threads: number,
  cores: number,
  clock: () => number,
): Estimate {
  const values = study.columns.length + study.curveSizes.length;
  const computing = timePerPoint(study, clock);
  const storing = values * STORING_PER_VALUE;
  const busy = Math.min(Math.max(threads, 1), cores);
  const shared = busy < cores ? computing / busy : (computing + storing) / busy;
  return {
    perPoint: computing + storing,
    time: points * Math.max(shared, storing),
    size: EMPTY_STORE + points * values * BYTES_PER_VALUE,
  };
}
