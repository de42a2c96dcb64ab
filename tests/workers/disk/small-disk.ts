import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A disk of its own in memory; only an account that may mount has one. */
export interface SmallDisk {
  readonly path: string;
  readonly resize: (kib: number) => void;
  readonly allowWriting: (yes: boolean) => void;
  readonly remove: () => void;
}

/** Mounts a disk of so many KiB; undefined where this account may not. */
export function smallDisk(kib: number): SmallDisk | undefined {
  const path = mkdtempSync(join(tmpdir(), 'disk-'));
  const mount = (...words: string[]): boolean => spawnSync('mount', words).status === 0;
  if (!mount('-t', 'tmpfs', '-o', `size=${kib}k`, 'tmpfs', path)) {
    rmSync(path, { recursive: true });
    return undefined;
  }
  const again = (how: string): void => {
    if (!mount('-o', `remount,${how}`, path)) throw new Error(`remount ${how} failed`);
  };
  return {
    path,
    resize: (size) => again(`size=${size}k`),
    allowWriting: (yes) => again(yes ? 'rw' : 'ro'),
    remove: () => {
      spawnSync('umount', [path]);
      rmSync(path, { recursive: true, force: true });
    },
  };
}
