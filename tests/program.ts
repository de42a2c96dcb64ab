import { execFile } from 'node:child_process';
import { runCommandLine } from '../src/cli/command-line.ts';

/** How a run of the program ended, and what it printed. */
export interface Finished {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

let before: Promise<unknown> = Promise.resolve();

/** Runs a command line in this process, one after the other, as what it prints is taken from the process. */
export function grindloop(...words: string[]): Promise<Finished> {
  const ended = before.then(() => runHere(words));
  before = ended.catch(() => undefined);
  return ended;
}

/** The same in a folder. */
export async function grindloopIn(folder: string, ...words: string[]): Promise<Finished> {
  const back = process.cwd();
  process.chdir(folder);
  try {
    return await grindloop(...words);
  } finally {
    process.chdir(back);
  }
}

/** Runs a command line in this process and takes what it prints; no other may run meanwhile. */
export async function runHere(words: readonly string[]): Promise<Finished> {
  const { stdout, stderr } = process;
  const writers = [stdout.write, stderr.write] as const;
  const printed = { out: '', err: '' };
  const into = (which: 'out' | 'err') =>
    ((chunk: unknown) => {
      printed[which] += String(chunk);
      return true;
    }) as typeof stdout.write;
  stdout.write = into('out');
  stderr.write = into('err');
  // the parser of options prints help by the console, which the test runner keeps to itself
  const { log } = console;
  console.log = (text: string) => into('out')(`${text}\n`);
  try {
    return { code: await runCommandLine(words), ...printed };
  } finally {
    [stdout.write, stderr.write] = writers;
    console.log = log;
  }
}

/** Runs the built program in a process of its own, as a user does. */
export function grindloopApart(...words: string[]): Promise<Finished> {
  return new Promise((done) => {
    execFile(process.execPath, ['dist/src/cli/main.js', ...words], { maxBuffer: 1e8 }, (error, out, err) => {
      done({ code: typeof error?.code === 'number' ? error.code : 0, out, err });
    });
  });
}
