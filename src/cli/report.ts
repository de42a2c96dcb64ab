import { statSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Audience } from '../answers/evidence-sentence.ts';
import { InputError } from '../scenario/errors.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { programVersion } from '../sweep/store/version.ts';
import { readTrialLogs } from '../trials/log/file.ts';
import type { LoggedTrial } from '../trials/log/logged.ts';
import type { ReportParts } from '../viz/report/parts.ts';
import { runReport } from '../viz/report/run-report.ts';
import { sweepReport } from '../viz/report/sweep-report.ts';
import { deflate } from '../viz/write/deflate.ts';
import { reportText } from '../viz/write/report.ts';
import { type Command, EXIT } from './command.ts';
import { figureOptions, figureWish, writeFigure } from './figure-options.ts';
import { GRADED, loadGraded } from './grade-option.ts';
import { machineNamed } from './machine-named.ts';
import { readOptions, statedOptions } from './read-options.ts';
import { settable } from './set-option.ts';
import { writeWhole } from './write-file.ts';

/** `report OUT`: the page that answers. */
export const report: Command = {
  options: (argv) =>
    readOptions(
      figureOptions(argv)
        .positional('out', {
          type: 'string',
          describe: 'store of a sweep, or a scenario file for a run',
          demandOption: true,
        })
        .option('output', {
          alias: 'o',
          type: 'string',
          describe: 'page to write; default OUT/report.html, none where only a figure is written',
        })
        .option('trials', {
          type: 'string',
          array: true,
          nargs: 1,
          describe: 'trial log: its runs are marked and drawn (repeatable)',
        })
        .option('compare-with', {
          alias: 'beside',
          type: 'string',
          describe:
            'a second machine, of the catalogue or a file: its feed-rate figure at the same product is drawn over',
        })
        .option('for', {
          choices: ['engineer', 'customer'] as const,
          default: 'engineer' as const,
          describe: 'a customer gets no coefficients, no scenario text and no model',
        })
        .option('json', {
          type: 'boolean',
          default: false,
          describe: 'print the answer as JSON; a page is then written only with -o',
        })
        .option('grade', GRADED)
        .option(
          'set',
          settable('change a value of a run, e.g. --set settings.feedRate="200 kg/h" (repeatable)'),
        )
        .example('grindloop report out/my-case', 'the page of a sweep')
        .example(
          'grindloop report my-case.yaml -o run.html --for customer',
          'the page of one run, for a customer',
        ),
    ),
  run: async (options) => {
    const wish = figureWish(options);
    const out = String(options.out);
    const audience = options.for as Audience;
    const trialsOf = async (scenario: Scenario): Promise<readonly LoggedTrial[]> => {
      if (!Array.isArray(options.trials)) return [];
      return (await readTrialLogs(options.trials as string[], scenario, { reading: statedOptions(options) }))
        .trials;
    };
    const beside =
      typeof options.compareWith === 'string'
        ? machineNamed(options.compareWith, '--compare-with')
        : undefined;
    const readers = { audience, ...(beside ? { beside } : {}) };
    const parts = isScenario(out)
      ? await ofRun(out, options, trialsOf, readers)
      : await ofSweep(out, options, trialsOf, readers);
    const written = wish ? await writeFigure(parts.offer, wish) : [];
    if (typeof options.output === 'string' || !(wish || options.json)) {
      const file = typeof options.output === 'string' ? options.output : placeFor(out);
      writeWhole(file, reportText(parts));
      written.unshift(file);
    }
    process.stdout.write(
      options.json ? `${JSON.stringify(parts.json, null, 2)}\n` : `${written.join('\n')}\n`,
    );
    return EXIT.done;
  },
};

/** For whom, and with which second machine to compare. */
interface Readers {
  readonly audience: Audience;
  readonly beside?: Scenario;
}

type TrialsOf = (scenario: Scenario) => Promise<readonly LoggedTrial[]>;

async function ofRun(
  file: string,
  options: Readonly<Record<string, unknown>>,
  trialsOf: TrialsOf,
  readers: Readers,
): Promise<ReportParts> {
  const scenario = await loadGraded(file, options, true);
  const trials = await trialsOf(scenario);
  return runReport(scenario, { trials, version: programVersion(), date: today(), ...readers });
}

async function ofSweep(
  out: string,
  options: Readonly<Record<string, unknown>>,
  trialsOf: TrialsOf,
  readers: Readers,
): Promise<ReportParts> {
  if ((options.set as string[]).length > 0) {
    const message = 'changes a run only; a sweep is reported as it was stored';
    throw new InputError([{ place: '--set', message }]);
  }
  if (options.grade !== undefined) {
    const message = 'is of a scenario; a sweep is reported for the grade it was swept for';
    throw new InputError([{ place: '--grade', message }]);
  }
  // the database is loaded only by commands that open a store
  const { openStore } = await import('../sweep/store/reader.ts');
  const reader = await openStore(out);
  try {
    const rows = await reader.rows();
    if (rows.count === 0)
      throw new InputError([{ place: out, message: 'has no point yet; run the sweep first' }]);
    const trials = await trialsOf(reader.stored.study.scenario);
    return sweepReport({ stored: reader.stored, rows, trials, date: today(), ...readers }, deflate);
  } finally {
    reader.close();
  }
}

function today(): string {
  return new Date().toISOString().slice(0, 10);
}

function isScenario(out: string): boolean {
  return /\.ya?ml$/i.test(out);
}

function placeFor(out: string): string {
  const folder = statSync(out, { throwIfNoEntry: false })?.isDirectory();
  return folder ? join(out, 'report.html') : `${basename(out).replace(/\.\w+$/, '')}.html`;
}
