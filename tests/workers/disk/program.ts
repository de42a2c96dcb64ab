import { type SpawnSyncOptions, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

export const PROGRAM = resolve('dist/src/cli/main.js');
export const DEMO = resolve('scenarios/erythritol.yaml');
/** A log of one run: what is tried is the writing, however long the fit before it. */
export const TRIALS = resolve('tests/fixtures/one-run.csv');

/** The demonstration with few steps. */
export const SMALL = [
  ...['--set', 'sweep.factors.rotorSpeed.steps=3', '--set', 'sweep.factors.wheelSpeed.steps=4'],
  ...['--set', 'sweep.factors.feedRate.steps=2', '--threads', '1'],
];

export interface Finished {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the built program in a process of its own. */
export function grindloop(words: readonly string[], options: SpawnSyncOptions = {}): Finished {
  const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, ...words], options);
  return { code: status, out: String(stdout), err: String(stderr) };
}

/** The same with no file allowed to grow beyond so many KiB: the kernel's answer is "file too large". */
export function grindloopWithin(size: number, words: readonly string[]): Finished {
  const limited = `trap '' XFSZ; ulimit -f ${size}; exec "$0" "$@"`;
  const { status, stdout, stderr } = spawnSync('bash', ['-c', limited, process.execPath, PROGRAM, ...words]);
  return { code: status, out: String(stdout), err: String(stderr) };
}

/** Every file below a folder with the hash of its bytes. */
export function contentOf(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return Object.fromEntries(
    files
      .map(({ parentPath, name }) => join(parentPath, name))
      .sort()
      .map((path) => [path, createHash('sha256').update(readFileSync(path)).digest('hex')]),
  );
}
