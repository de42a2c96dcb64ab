import { spawn } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Finished, runHere } from '../../program.ts';
import type { Trial } from './change.ts';
import { changesIn, EMPTY, type Workshop } from './workshop.ts';

/** What a command line came to. */
export interface Ran extends Finished {
  /** Processor time [ms]: the clock of a busy machine says little. */
  readonly took: number;
}

/** A fuzzed sweep that is still running then is told to stop, as by Ctrl-C [ms]. */
const STOP_AFTER = 2500;

/** Runs a command line in this process, whose folder is the workshop, and lets no sweep run long. */
export async function runHereBriefly(words: readonly string[]): Promise<Ran> {
  const stop = setTimeout(() => process.emit('SIGINT'), STOP_AFTER);
  const start = process.cpuUsage();
  try {
    const ended = await runHere(words);
    return { ...ended, took: sum(process.cpuUsage(start)) };
  } finally {
    clearTimeout(stop);
  }
}

/** Built program, for runs in a process of their own. */
const PROGRAM = fileURLToPath(new URL('../../../src/cli/main.js', import.meta.url));
const HUNG = 60_000;

/** Runs a command line in a process of its own, as a user does; one that does not end is killed and has no exit code. */
export function runApart(words: readonly string[]): Promise<Ran> {
  return new Promise((done) => {
    const child = spawn(process.execPath, [PROGRAM, ...words], { stdio: ['ignore', 'pipe', 'pipe'] });
    const printed = { out: '', err: '' };
    child.stdout.on('data', (text) => {
      printed.out += text;
    });
    child.stderr.on('data', (text) => {
      printed.err += text;
    });
    const hung = setTimeout(() => child.kill('SIGKILL'), HUNG);
    const stop = setTimeout(() => words[0] === 'sweep' && child.kill('SIGINT'), 4 * STOP_AFTER);
    child.on('close', (code) => {
      clearTimeout(hung);
      clearTimeout(stop);
      // the clock of a busy machine says little: a run counts as hung where it had to be killed
      done({ code: code ?? 137, ...printed, took: 0 });
    });
  });
}

function sum({ user, system }: NodeJS.CpuUsage): number {
  return (user + system) / 1000;
}

const CODES = [0, 1, 2, 130];
/** Words no person should read; they may stand in what was typed, there also grown together with others (`NaNkg`). */
const SENSELESS = /\bNaN\b|\bundefined\b|\[object |\bInfinity\b/;
const TYPED = /NaN|undefined|\[object |Infinity/;
/** Processor time from which a run counts as hung [ms]: longer for those that search. */
const SLOW = 5000;
const SLOW_SEARCH = 60_000;
const SEARCHES = ['find', 'fit', 'next', 'compare'];

/** What is wrong with a run: nothing, as it should be. */
export function faultsOf({ words, file }: Trial, { code, out, err, took }: Ran): string[] {
  const typed = `${words.join(' ')} ${file?.text ?? ''}`;
  const faults: string[] = [];
  if (!CODES.includes(code)) faults.push(`exit code ${code}`);
  if (/\n\s+at .*[:(]/.test(err) || /this is a bug/.test(err)) faults.push(`a crash: ${err.slice(0, 2000)}`);
  if (code === 1 && err.trim() === '') faults.push('refused without a word');
  if (code === 1 && /^\s*:/m.test(err)) faults.push(`a fault without place or words: ${err.slice(0, 500)}`);
  const shown = code === 1 ? err : `${out} ${err}`;
  const senseless = SENSELESS.exec(shown);
  if (senseless && !TYPED.test(typed))
    faults.push(`says ${shown.slice(Math.max(0, senseless.index - 100), senseless.index + 100)}`);
  if (took > (SEARCHES.includes(words[0] ?? '') ? SLOW_SEARCH : SLOW))
    faults.push(`took ${took.toFixed(0)} ms`);
  return faults;
}

/** Files of a run that must be as they were: all that stood there before but a store the same sweep goes on in. */
const GROWS = /^(swept|shards)\//;
/** Files a run must not leave. */
const HALF = /\.part$|\.new$|\.wal$/;

/** Lost and half-made files of a run; the workshop is put back in order by `renew` where a file was lost. */
export function lossesIn(workshop: Workshop, trial: Trial, made: string[]): string[] {
  const { lost, made: fresh } = changesIn(workshop);
  made.push(...fresh);
  const replaced = trial.words[0] === 'new' && trial.words.includes('--force') ? trial.words : [];
  const faults = lost
    .filter((name) => !replaced.includes(name))
    // an empty file holds nothing that could be lost, and may be written
    .filter(
      (name) => name !== trial.file?.name && !GROWS.test(name) && !workshop.whole.get(name)!.startsWith('0 '),
    )
    .map((name) => `changed ${name}`);
  for (const name of fresh) if (HALF.test(name)) faults.push(`left ${name}`);
  return faults;
}

/** Removes what a run made and empties what it filled, so that the next finds the workshop as it was. */
export function clear({ folder }: Workshop, made: readonly string[]): void {
  for (const name of made) rmSync(join(folder, name), { force: true });
  for (const name of EMPTY) writeFileSync(join(folder, name), '');
  for (const name of ['out', 'joined']) rmSync(join(folder, name), { recursive: true, force: true });
}

export function place({ folder }: Workshop, file: Trial['file']): void {
  if (file) writeFileSync(join(folder, file.name), file.text);
}
