import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';

const PROGRAM = resolve('dist/src/cli/main.js');
const DEMO = resolve('scenarios/erythritol.yaml');
/** Runs of which the least counts: what other work on the machine adds is never negative. */
const RUNS = 5;

/** Least processor time [s], user and system, of a few runs of node with these words. */
export function processorTime(words: readonly string[]): number {
  const times = Array.from({ length: RUNS }, () => {
    const { stderr } = spawnSync('bash', [
      '-c',
      'TIMEFORMAT="%U %S"; time "$0" "$@" > /dev/null',
      process.execPath,
      ...words,
    ]);
    const [user, system] = String(stderr).trim().split(/\s+/).slice(-2).map(Number);
    return user! + system!;
  });
  return Math.min(...times);
}

/** Processor time [s] a user waits for before anything is computed, and that of node itself. */
export function benchStart(): Record<string, number> {
  return {
    start_node_s: processorTime(['-e', '0']),
    start_help_s: processorTime([PROGRAM, '--help']),
    start_check_s: processorTime([PROGRAM, 'check', DEMO]),
    start_run_s: processorTime([PROGRAM, 'run', DEMO]),
  };
}
