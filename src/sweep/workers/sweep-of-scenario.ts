import { missingPackage } from '../../scenario/missing-package.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { StoreReader } from '../store/reader.ts';
import { programVersion } from '../store/version.ts';
import { type StudyOptions, studyOf } from '../study/study-of.ts';
import type { SweepRequest, SweepResult } from './run-sweep.ts';

/** How a sweep is run from code. */
export interface SweepOptions extends StudyOptions, Pick<SweepRequest, 'shard' | 'signal' | 'onProgress'> {
  /** Worker threads; 0, unless stated, evaluates in this thread. */
  readonly threads?: number;
}

/**
 * Runs the sweep of a scenario's `sweep:` block into a store, or goes on with one that was stopped. The database is loaded
 * when this is called.
 *
 * @param out folder or `.duckdb` file
 * @throws InputError where the scenario has no sweep, the store is another's, or the database is not installed
 * @example await sweepScenario(scenario, 'out/mine', { threads: 2 })
 */
export async function sweepScenario(
  scenario: Scenario,
  out: string,
  options: SweepOptions = {},
): Promise<SweepResult> {
  const { threads = 0, shard, signal, onProgress, ...study } = options;
  const { runSweep } = await import('./run-sweep.ts').catch(refuseMissing);
  return runSweep({
    study: studyOf(scenario, study),
    out,
    version: programVersion(),
    threads,
    ...(shard && { shard }),
    ...(signal && { signal }),
    ...(onProgress && { onProgress }),
  });
}

/**
 * Opens the store of a sweep for reading; close it. The database is loaded when this is called.
 *
 * @param out as given to the sweep
 * @throws InputError where there is none, it is damaged, or the database is not installed
 */
export async function openSweep(out: string): Promise<StoreReader> {
  const { openStore } = await import('../store/reader.ts').catch(refuseMissing);
  return openStore(out);
}

function refuseMissing(error: unknown): never {
  throw missingPackage(error);
}
