import { existsSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { InputError } from '../scenario/errors.ts';
import { loadScenario } from '../scenario/load.ts';
import { openStore } from '../sweep/store/reader.ts';
import { programVersion } from '../sweep/store/version.ts';
import type { Audience, ReportParts } from '../viz/report/parts.ts';
import { runReport } from '../viz/report/run-report.ts';
import { sweepReport } from '../viz/report/sweep-report.ts';
import { deflate, reportText } from '../viz/write/report.ts';
import { type Command, EXIT } from './command.ts';
import { writeWhole } from './write-file.ts';

/** `report OUT`: the page that answers. */
export const report: Command = {
  usage: 'report <out>',
  summary: 'the report of a sweep or a run, one HTML file that opens from disk',
  options: (argv) =>
    argv
      .positional('out', {
        type: 'string',
        describe: 'store of a sweep, or a scenario for one run',
        demandOption: true,
      })
      .option('output', {
        alias: 'o',
        type: 'string',
        describe: 'file to write; OUT/report.html, or the name of the scenario with .html',
      })
      .option('for', {
        choices: ['engineer', 'customer'] as const,
        default: 'engineer' as const,
        describe: 'a customer gets no coefficients, no scenario text and no model',
      })
      .option('set', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'of a scenario file: change a value (repeatable)',
      }),
  run: async (options) => {
    const out = String(options.out);
    const made = { date: new Date().toISOString().slice(0, 10), audience: options.for as Audience };
    const parts = isScenario(out)
      ? runReport(await loadScenario(out, { set: options.set as string[] }), {
          ...made,
          version: programVersion(),
        })
      : await ofSweep(out, made, options.set as string[]);
    const file = typeof options.output === 'string' ? options.output : placeFor(out);
    writeWhole(file, reportText(parts));
    process.stdout.write(`${file}\n`);
    return EXIT.done;
  },
};

function isScenario(out: string): boolean {
  return /\.ya?ml$/i.test(out);
}

async function ofSweep(
  out: string,
  made: { readonly date: string; readonly audience: Audience },
  set: readonly string[],
): Promise<ReportParts> {
  if (set.length > 0) {
    throw new InputError([{ place: '--set', message: 'changes a scenario file; a sweep is as it was run' }]);
  }
  const reader = await openStore(out);
  try {
    const rows = await reader.rows();
    return sweepReport({ stored: reader.stored, rows, measured: [], trials: [], ...made }, deflate);
  } finally {
    reader.close();
  }
}

function placeFor(out: string): string {
  if (!existsSync(out)) throw new InputError([{ place: out, message: 'is not there' }]);
  return statSync(out).isDirectory()
    ? join(out, 'report.html')
    : `${basename(out).replace(/\.\w+$/, '')}.html`;
}
