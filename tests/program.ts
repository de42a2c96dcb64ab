import { execFile } from 'node:child_process';

/** How a run of the built program ended, and what it printed. */
export interface Finished {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the built program in a process of its own, as a user does. */
export function grindloop(...words: string[]): Promise<Finished> {
  return new Promise((done) => {
    execFile(process.execPath, ['dist/src/cli/main.js', ...words], { maxBuffer: 1e8 }, (error, out, err) => {
      done({ code: typeof error?.code === 'number' ? error.code : 0, out, err });
    });
  });
}
