import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterAll, expect, test } from 'vitest';
import { type Slurm, startSlurm, withoutSlurm } from './slurm-on-loopback.ts';

const folder = mkdtempSync(join(tmpdir(), 'grindloop-slurm-'));
const why = withoutSlurm();
let slurm: Slurm | undefined;
afterAll(async () => {
  await slurm?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const POINTS = 24_000;
const PROGRAM = resolve('dist/src/cli/main.js');
const SCENARIO = `from: ${resolve('scenarios/erythritol.yaml')}
sweep:
  design: sobol
  points: ${POINTS}
  factors: { wheelSpeed: { from: 1000 rpm, to: 5000 rpm }, feedRate: { from: 100 kg/h, to: 500 kg/h } }
`;

/** The README's job as it stands, of four tasks of one core, with this test's own places. */
function job(study: string): string {
  const [, script] = /```sh\n(#!\/bin\/sh\n#SBATCH[\s\S]*?)```/.exec(readFileSync('README.md', 'utf8'))!;
  const changes = [
    ['--array=1-8', '--array=1-4'],
    ['--cpus-per-task=16', '--cpus-per-task=1'],
    ['mill.yaml', join(folder, 'mill.yaml')],
    ['/shared/study', study],
  ] as const;
  for (const [there] of changes) expect(script).toContain(there);
  return changes.reduce((text, [there, here]) => text.replace(there, here), script!);
}

/** Process of one task of the array, found by its own environment. */
function processOf(task: number, study: string): number {
  const own = readdirSync('/proc').find((pid) => {
    if (!/^\d+$/.test(pid)) return false;
    try {
      const line = readFileSync(`/proc/${pid}/cmdline`, 'utf8');
      const env = readFileSync(`/proc/${pid}/environ`, 'utf8');
      return line.includes(PROGRAM) && line.includes(study) && env.includes(`SLURM_ARRAY_TASK_ID=${task}\0`);
    } catch {
      return false;
    }
  });
  return Number(own);
}

async function until(what: string, is: () => boolean): Promise<void> {
  for (let turn = 0; turn < 1200; turn++) {
    if (is()) return;
    await setTimeout(250);
  }
  throw new Error(`waited in vain until ${what}`);
}

test.skipIf(why !== undefined)(
  `the README's job array: a task requeued, one killed, merged, and the rows are those of a serial run${why ? ` (${why})` : ''}`,
  async () => {
    const study = join(folder, 'study');
    const bin = join(folder, 'bin');
    mkdirSync(bin);
    writeFileSync(join(bin, 'grindloop'), `#!/bin/sh\nexec '${process.execPath}' '${PROGRAM}' "$@"\n`);
    chmodSync(join(bin, 'grindloop'), 0o755);
    writeFileSync(join(folder, 'mill.yaml'), SCENARIO);
    writeFileSync(join(folder, 'job.sh'), job(study));
    slurm = startSlurm(folder, `${bin}:${process.env.PATH}`);
    const { client } = slurm;
    await until('the node is idle', () => client('sinfo', '-h', '-o', '%t') === 'idle');
    const id = client('sbatch', '--parsable', 'job.sh');
    const store = (task: number): string => join(study, `shard-${task}-of-4.duckdb`);
    const stateOf = (task: number): string =>
      /JobState=(\w+)/.exec(client('scontrol', 'show', 'job', `${id}_${task}`))?.[1] ?? '';

    await until('the second task stores', () => existsSync(store(2)));
    client('scontrol', 'requeue', `${id}_2`);
    expect(stateOf(2)).not.toBe('COMPLETED');
    await until('the third task stores', () => existsSync(store(3)) && processOf(3, study) > 0);
    process.kill(processOf(3, study), 'SIGKILL');
    await until('the third task is given up', () => stateOf(3) === 'FAILED');
    client('scontrol', 'requeue', `${id}_3`);
    for (const task of [2, 3]) client('scontrol', 'update', `JobId=${id}_${task}`, 'StartTime=now');
    await until('every task is done', () => [1, 2, 3, 4].every((task) => stateOf(task) === 'COMPLETED'));
    expect(client('scontrol', 'show', 'job', `${id}_2`)).toMatch(/Restarts=1/);

    const run = (...words: string[]) =>
      spawnSync(process.execPath, [PROGRAM, ...words], { cwd: folder, encoding: 'utf8' });
    expect(run('merge', study).stderr).toBe('');
    const exported = (out: string): Buffer => {
      const again = run('sweep', 'mill.yaml', '-o', out, '--threads', '1', '--export', 'csv');
      expect([again.status, again.stderr.replace(/^\d.*left\n/gm, '')]).toEqual([0, expect.any(String)]);
      return readFileSync(join(out, 'sweep.csv'));
    };
    const merged = exported(study);
    expect(merged.equals(exported(join(folder, 'serial')))).toBe(true);
    expect(merged.toString('latin1').trimEnd().split('\n').length).toBe(POINTS + 1);
  },
  600_000,
);
