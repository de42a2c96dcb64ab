import { basename, dirname, join, resolve } from 'node:path';
import type { ArgumentsCamelCase } from 'yargs';
import { loadScenario } from '../scenario/load.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { ExportFormat } from '../sweep/store/export.ts';
import { listAsSetting } from '../sweep/store/list-file.ts';
import { programVersion } from '../sweep/store/version.ts';
import { describeProgress, spaced } from '../sweep/study/progress.ts';
import { parseShard, type Shard } from '../sweep/study/shard.ts';
import type { Study } from '../sweep/study/study.ts';
import { type StudyOptions, studyOf } from '../sweep/study/study-of.ts';
import { defaultThreads } from '../sweep/workers/pool.ts';
import type { SweepResult } from '../sweep/workers/run-sweep.ts';
import { checkedTogether } from './collect-faults.ts';
import { type Command, EXIT } from './command.ts';
import { GRADED, gradeOf } from './grade-option.ts';
import { refuseOutside } from './number-option.ts';
import { settable } from './set-option.ts';
import { dryRun } from './sweep-dry-run.ts';
import { progressLine } from './sweep-progress.ts';

const THREADS = { whole: true, least: 1, most: 512 } as const;
/** What shells report for a command stopped by Ctrl-C. */
const INTERRUPTED = 130;

type Options = ArgumentsCamelCase<Record<string, unknown>>;

/** `sweep FILE -o OUT`: the map. */
export const sweep: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario with a sweep: block', demandOption: true })
      .option('output', {
        alias: 'o',
        type: 'string',
        describe: 'folder or .duckdb file; default out/NAME',
      })
      .option('grade', GRADED)
      .option('set', settable('change a value, e.g. --set settings.feedRate="200 kg/h" (repeatable)'))
      .option('points', {
        type: 'number',
        describe: 'points of a sobol, latin-hypercube or sensitivity design',
      })
      .option('seed', { type: 'number', describe: 'start of the random numbers; 0 leaves sobol unscrambled' })
      .option('quantities', {
        type: 'string',
        describe: 'what to store, e.g. x50,x95,motorLoad; default all',
      })
      .option('curves', { type: 'boolean', default: false, describe: 'store every size curve too' })
      .option('threads', { type: 'number', describe: 'worker threads; default one a core' })
      .option('shard', {
        type: 'string',
        describe: "part k/n of the design; auto or auto/n takes the job array's index",
      })
      .option('export', {
        choices: ['csv', 'parquet'] as const,
        describe: 'also write the rows to a file next to the store',
      })
      .option('json', {
        type: 'boolean',
        default: false,
        describe:
          'print the summary as JSON: points, verdict and settings named, as report --json gives them',
      })
      .option('dry-run', {
        type: 'boolean',
        default: false,
        describe: 'print how many points, how large, how long; run nothing',
      })
      .example('grindloop sweep my-case.yaml -o out/my-case', 'every point of the design, resumable')
      .example('grindloop sweep my-case.yaml -o out/my-case --dry-run', 'how many points and how long'),
  run: runSweepCommand,
};

async function runSweepCommand(options: Options): Promise<number> {
  // the database is loaded only by commands that open a store
  const { runSweep } = await import('../sweep/workers/run-sweep.ts');
  const file = String(options.file);
  const [, shard, study] = await checkedTogether<[unknown, Shard | undefined, Study]>([
    () => refuseOutside(options, { threads: THREADS }),
    () => (options.shard === undefined ? undefined : parseShard(String(options.shard), process.env)),
    async () =>
      studyOf(
        gradeOf(await loadWithList(file, options.set as string[]), options.grade),
        studyOptions(options),
      ),
  ]);
  const threads = options.threads === undefined ? defaultThreads() : Number(options.threads);
  if (options.dryRun) {
    process.stdout.write(dryRun(study, threads, shard));
    return EXIT.done;
  }
  const out =
    typeof options.output === 'string'
      ? options.output
      : join(
          'out',
          [basename(file).replace(/\.ya?ml$/i, ''), ...(options.grade ? [options.grade] : [])].join('-'),
        );
  const line = progressLine(process.stderr);
  const stop = stopOnSignal();
  try {
    const result = await runSweep({
      study,
      out,
      version: programVersion(),
      threads,
      signal: stop.signal,
      onProgress: line.show,
      ...(shard && { shard }),
    });
    line.end();
    return await close(result, options.export as ExportFormat | undefined, options.json === true);
  } finally {
    line.end();
    stop.release();
  }
}

/** The scenario, a list's points taken up from its file: relative to the scenario that names it, or to the current folder. */
async function loadWithList(file: string, set: readonly string[]): Promise<Scenario> {
  const scenario = await loadScenario(file, { set });
  const list = scenario.sweep?.file;
  if (scenario.sweep?.design !== 'list' || list === undefined) return scenario;
  const typed = set.some((each) => /^\s*sweep(\.file)?\s*=/.test(each) && each.includes(list));
  const path = typed ? resolve(list) : resolve(dirname(file), list);
  return loadScenario(file, { set: [...set, listAsSetting(path)] });
}

function studyOptions({ points, seed, quantities, curves }: Options): StudyOptions {
  return {
    curves: curves === true,
    ...(typeof points === 'number' && { points }),
    ...(typeof seed === 'number' && { seed }),
    ...(typeof quantities === 'string' && { quantities: quantities.split(',').map((name) => name.trim()) }),
  };
}

/** First signal: finish the runs on the way. Second: end at once; the store bears that too. */
function stopOnSignal(): { readonly signal: AbortSignal; readonly release: () => void } {
  const controller = new AbortController();
  const stop = (): void => {
    if (controller.signal.aborted) process.exit(INTERRUPTED);
    controller.abort();
  };
  const signals = ['SIGINT', 'SIGTERM'] as const;
  for (const name of signals) process.on(name, stop);
  return {
    signal: controller.signal,
    release: () => {
      for (const name of signals) process.off(name, stop);
    },
  };
}

async function close(result: SweepResult, format: ExportFormat | undefined, json: boolean): Promise<number> {
  const { progress, store, complete, failed } = result;
  for (const { index, message } of failed)
    process.stderr.write(`point ${index}: this is a bug in grindloop: ${message}\n`);
  if (!complete) {
    const left = progress.total - progress.done;
    process.stderr.write(
      `stopped: ${describeProgress(progress)}\n${spaced(left)} points are missing; run the same command again to continue\n`,
    );
    return failed.length > 0 ? EXIT.bug : INTERRUPTED;
  }
  const text = json ? undefined : await summary(result);
  if (text !== undefined) process.stdout.write(`${text}\n`);
  const { exportRows } = await import('../sweep/store/export.ts');
  const exported = format === undefined ? undefined : await exportRows(store, format);
  if (json) process.stdout.write(await summaryJson(store, exported));
  else if (exported !== undefined) process.stdout.write(`${exported}\n`);
  return EXIT.done;
}

/** The summary as JSON, with the file the rows were written to besides. */
async function summaryJson(store: string, exported: string | undefined): Promise<string> {
  const [{ StoreReader }, { sweepSummary }] = await Promise.all([
    import('../sweep/store/reader.ts'),
    import('../answers/sweep-summary.ts'),
  ]);
  const reader = await StoreReader.open(store);
  try {
    const keys = sweepSummary(reader.stored, await reader.rows());
    return `${JSON.stringify({ store, ...keys, exported: exported ?? null }, null, 2)}\n`;
  } finally {
    reader.close();
  }
}

/** What is stored, how fast it came, and how many points meet the spec. */
async function summary({ progress, store }: SweepResult): Promise<string> {
  const { StoreReader } = await import('../sweep/store/reader.ts');
  const { quoted } = await import('../sweep/store/schema.ts');
  const reader = await StoreReader.open(store);
  try {
    const { size, range, columns, study } = reader.stored;
    const all = range.count === size ? '' : ` of ${spaced(size)}`;
    const lines = [`${store}: ${spaced(range.count)} points${all}, ${columns.length} columns`];
    if (progress.done > 0) lines.push(describeProgress(progress));
    for (const { name, of, role } of columns) {
      if (role !== 'meetsSpec') continue;
      const met = await reader.count(quoted(name));
      const [opening, what] = study.scenario.grades ? [`${of}: `, 'this grade'] : ['', 'the spec'];
      const many = `${spaced(met)} ${met === 1 ? 'point meets' : 'points meet'}`;
      lines.push(`${opening}${met === 0 ? 'no point meets' : many} ${what}`);
    }
    lines.push(...study.scenario.warnings.map(({ message }) => `note: ${message}`));
    return lines.join('\n');
  } finally {
    reader.close();
  }
}
