import { readdirSync, rmSync } from 'node:fs';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';

/**
 * Name beside `path` for a file that is renamed to it once whole. It carries host and process, since jobs of several
 * machines share a folder; what killed processes of this machine left under such names is removed.
 *
 * @param path where the whole file is to stand
 */
export function nameBeside(path: string): string {
  for (const name of leftBeside(path)) {
    rmSync(join(dirname(path), name), { force: true, recursive: true });
  }
  return `${path}.${hostname()}.${process.pid}.part`;
}

/** Unfinished files and spilled rows of this machine whose process is gone. */
function leftBeside(path: string): string[] {
  const start = `${basename(path)}.${hostname()}.`;
  return filesIn(dirname(path)).filter((name) => {
    if (!name.startsWith(start)) return false;
    const id = /^(\d+)\.part(\.wal|\.tmp)?$/.exec(name.slice(start.length))?.[1];
    return id !== undefined && !isRunning(Number(id));
  });
}

function filesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return []; // what is wrong with the folder shows when the file is written
  }
}

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
