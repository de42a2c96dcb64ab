import { execFileSync, spawnSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';

/** Programs of Debian's packages slurm-wlm and munge. */
const DAEMONS = ['/usr/sbin/slurmctld', '/usr/sbin/slurmd', '/usr/sbin/munged'];

/** Why no scheduler can be started here; undefined where one can. */
export function withoutSlurm(): string | undefined {
  const missing = DAEMONS.filter((path) => !existsSync(path));
  if (missing.length > 0) return `not installed: ${missing.join(', ')} (apt-get install slurm-wlm munge)`;
  return process.getuid?.() === 0 ? undefined : 'the scheduler is started as root only';
}

/** A scheduler with one node, this machine, reached over loopback. Stop it. */
export interface Slurm {
  /** Runs a client of the scheduler and gives what it prints. */
  readonly client: (program: string, ...words: string[]) => string;
  readonly stop: () => Promise<void>;
}

/** @param folder its own; @param path for the jobs to find their programs in */
export function startSlurm(folder: string, path: string): Slurm {
  for (const name of ['state', 'spool', 'munge']) mkdirSync(join(folder, name), { recursive: true });
  const place = (...names: string[]): string => join(folder, ...names);
  writeFileSync(place('munge', 'key'), randomBytes(1024));
  execFileSync('chown', ['-R', 'munge:munge', place('munge')]);
  chmodSync(place('munge', 'key'), 0o400);
  chmodSync(place('munge'), 0o711);
  chmodSync(folder, 0o755);
  writeFileSync(place('slurm.conf'), configuration(folder));
  const munged = ['key-file', 'socket', 'pid-file', 'log-file', 'seed-file'].map(
    (name) => `--${name}=${place('munge', name.split('-')[0]!)}`,
  );
  const env = { ...process.env, PATH: path, SLURM_CONF: place('slurm.conf') };
  execFileSync('runuser', ['-u', 'munge', '--', '/usr/sbin/munged', '--force', ...munged]);
  execFileSync('/usr/sbin/slurmctld', ['-c', '-f', place('slurm.conf')], { env });
  execFileSync('/usr/sbin/slurmd', ['-f', place('slurm.conf'), '-N', 'localhost'], { env });
  return {
    client: (program, ...words) =>
      execFileSync(program, words, { env, cwd: folder, encoding: 'utf8' }).trim(),
    stop: async () => {
      spawnSync('scancel', ['--user=root'], { env });
      const pids = ['slurmd.pid', 'slurmctld.pid', 'munge/pid']
        .filter((name) => existsSync(place(name)))
        .map((name) => Number(readFileSync(place(name), 'utf8').trim()));
      for (const pid of pids) process.kill(pid);
      while (pids.some((pid) => existsSync(`/proc/${pid}`))) await setTimeout(100);
    },
  };
}

function configuration(folder: string): string {
  return `ClusterName=loopback
SlurmctldHost=localhost
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=${folder}/munge/socket
SlurmctldPort=16817
SlurmdPort=16818
StateSaveLocation=${folder}/state
SlurmdSpoolDir=${folder}/spool
SlurmctldPidFile=${folder}/slurmctld.pid
SlurmdPidFile=${folder}/slurmd.pid
SlurmctldLogFile=${folder}/slurmctld.log
SlurmdLogFile=${folder}/slurmd.log
ProctrackType=proctrack/pgid
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
ReturnToService=2
JobRequeue=1
MpiDefault=none
NodeName=localhost CPUs=2 State=UNKNOWN
PartitionName=loopback Nodes=localhost Default=YES MaxTime=INFINITE State=UP
`;
}
