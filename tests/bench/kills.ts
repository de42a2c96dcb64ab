import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  type FSWatcher,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  watch,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { uniform } from '../reference/random-cases.ts';

const PROGRAM = resolve('dist/src/cli/main.js');
const DEMO = resolve('scenarios/erythritol.yaml');
/** A log of one run: what is killed is the writing, however long the fit before it. */
const TRIALS = resolve('tests/fixtures/one-run.csv');

/** What came of the kills; everything but `kills`, `struck` and `whole` must be 0. */
export interface KillCounts {
  readonly kills: number;
  /** Killed while a file was being written. */
  readonly struck: number;
  /** The program was done before it could be killed. */
  readonly finished: number;
  /** A file neither as it was nor as it should become; rows fewer than before; other bytes in the end; files left over. */
  readonly broken: number;
  readonly lost: number;
  readonly different: number;
  readonly leftover: number;
}

/** A command that writes, and what it writes. */
interface Victim {
  readonly words: readonly string[];
  readonly writes: string;
  /** What stands there before; a store that is to be made stands nowhere. */
  readonly older?: string;
  /** Content by which two runs are the same. */
  readonly content: () => string;
}

function sweepWords(points: number, out: string, ...more: string[]): string[] {
  const factors =
    '{ rotorSpeed: { from: 4000 rpm, to: 7000 rpm }, wheelSpeed: { from: 1000 rpm, to: 5000 rpm } }';
  const design = `sweep={ design: sobol, points: ${points}, factors: ${factors} }`;
  return ['sweep', DEMO, '--set', design, '--threads', '2', '-o', out, ...more];
}

function run(words: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, ...words], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${words.join(' ')}: ${stderr}`);
  return stdout;
}

const rowsIn = (out: string): number =>
  Number(run(['sql', out, 'select count(*) from points']).trim().split('\n').at(-1));

function exported(out: string): string {
  const store = join(out, 'sweep.duckdb');
  const code = `const { exportRows } = await import(${JSON.stringify(resolve('dist/src/sweep/store/export.js'))}); await exportRows(${JSON.stringify(store)}, 'csv');`;
  const { status, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', code], {
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(stderr);
  const text = readFileSync(join(out, 'sweep.csv'), 'latin1');
  rmSync(join(out, 'sweep.csv'));
  return text;
}

/** Starts a command and kills it: after `delay` ms, or as soon as a half-written file shows and `delay` ms more. */
function kill(
  words: readonly string[],
  delay: number,
  folder?: string,
): Promise<'killed' | 'struck' | 'finished'> {
  return new Promise((done) => {
    const child = spawn(process.execPath, [PROGRAM, ...words], { stdio: 'ignore' });
    let struck = false;
    let watcher: FSWatcher | undefined;
    const strike = (): void => {
      setTimeout(() => child.kill('SIGKILL'), delay);
    };
    if (folder === undefined) strike();
    else {
      watcher = watch(folder, (_, name) => {
        if (struck || !name?.includes('.part')) return;
        struck = true;
        strike();
      });
    }
    child.on('close', (_, signal) => {
      watcher?.close();
      done(signal !== 'SIGKILL' ? 'finished' : struck ? 'struck' : 'killed');
    });
  });
}

/**
 * Kills sweeps, merges, exports, reports and fits at random moments, half of the writers while they write.
 *
 * @param total kills wanted
 * @param points of the sweep that is killed
 */
export async function countKills(total: number, seed = 1, points = 30_000): Promise<KillCounts> {
  const folder = mkdtempSync(join(tmpdir(), 'kills-'));
  const random = uniform(seed);
  const counts = { kills: 0, struck: 0, finished: 0, broken: 0, lost: 0, different: 0, leftover: 0 };
  try {
    const sweeping = sweepVictim(folder, points, counts);
    const writers = writersIn(folder, Math.min(points, 4000));
    for (let turn = 0; counts.kills < total && turn < 3 * total; turn++) {
      const writer = writers[turn % (2 * writers.length)];
      const end = writer ? await strikeWriter(writer, random, counts) : await sweeping(random);
      if (end === 'finished') counts.finished++;
      else counts.kills++;
      if (end === 'struck') counts.struck++;
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return counts;
}

type Counts = { -readonly [name in keyof KillCounts]: number };

/** One sweep killed again and again until it is whole, then the next. */
function sweepVictim(folder: string, points: number, counts: Counts) {
  const started = performance.now();
  run(sweepWords(points, join(folder, 'reference')));
  const takes = performance.now() - started;
  const reference = exported(join(folder, 'reference'));
  let round = 0;
  let before = 0;
  return async (random: () => number): Promise<'killed' | 'struck' | 'finished'> => {
    const out = join(folder, `sweep-${round}`);
    mkdirSync(out, { recursive: true });
    const end = await kill(sweepWords(points, out), takes * random());
    const stored = existsSync(join(out, 'sweep.duckdb')) ? rowsIn(out) : 0;
    if (stored < before) counts.lost++;
    before = stored;
    if (end === 'finished' || stored === points || random() < 0.15) {
      run(sweepWords(points, out));
      if (exported(out) !== reference) counts.different++;
      if (readdirSync(out).some((name) => name !== 'sweep.duckdb')) counts.leftover++;
      rmSync(out, { recursive: true });
      round++;
      before = 0;
    }
    return end;
  };
}

function writersIn(folder: string, small: number): Victim[] {
  const shards = join(folder, 'shards');
  for (const part of ['1/2', '2/2']) run(sweepWords(small, shards, '--shard', part));
  const swept = join(folder, 'swept');
  run(sweepWords(small, swept));
  const text = (path: string) => () => readFileSync(path, 'latin1');
  const joined = join(folder, 'joined');
  for (const name of ['joined', 'pages', 'fits']) mkdirSync(join(folder, name));
  const csv = join(swept, 'sweep.csv');
  const page = join(folder, 'pages', 'a.html');
  const fit = join(folder, 'fits', 'cal.yaml');
  return [
    {
      words: ['merge', shards, '-o', joined],
      writes: join(joined, 'sweep.duckdb'),
      content: () => exported(joined),
    },
    {
      words: sweepWords(small, swept, '--export', 'csv'),
      writes: csv,
      older: 'index,older\n',
      content: text(csv),
    },
    {
      words: ['report', swept, '-o', page],
      writes: page,
      older: '<!doctype html>\nolder',
      content: text(page),
    },
    {
      words: ['fit', DEMO, '--trials', TRIALS, '--starts', '1', '-o', fit],
      writes: fit,
      older: '# written by grindloop fit; older\n',
      content: text(fit),
    },
  ];
}

/** One writer killed: its file is as it was or as it becomes, and the next run finds nothing in its way. */
async function strikeWriter(victim: Victim, random: () => number, counts: Counts) {
  const { words, writes, older, content } = victim;
  const renew = (): void =>
    older === undefined ? rmSync(writes, { force: true }) : writeFileSync(writes, older);
  renew();
  const started = performance.now();
  run(words);
  const takes = performance.now() - started;
  const whole = content();
  renew();
  const others = readdirSync(dirname(writes)).sort();
  const writing = random() < 0.6;
  const end = await kill(
    words,
    writing ? 8 * random() ** 2 : takes * random(),
    writing ? dirname(writes) : undefined,
  );
  if (existsSync(writes)) {
    const now = older !== undefined && readFileSync(writes, 'latin1') === older ? older : content();
    if (now !== older && now !== whole) counts.broken++;
  } else if (older !== undefined) counts.broken++;
  if (older === undefined) rmSync(writes, { force: true });
  run(words);
  if (content() !== whole) counts.different++;
  renew();
  if (readdirSync(dirname(writes)).sort().join() !== others.join()) counts.leftover++;
  return end;
}
