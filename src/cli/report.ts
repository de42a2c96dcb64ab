import { existsSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { InputError } from '../scenario/errors.ts';
import { openStore } from '../sweep/store/reader.ts';
import type { Audience } from '../viz/report/parts.ts';
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
      .option('output', { alias: 'o', type: 'string', describe: 'file to write; default OUT/report.html' })
      .option('for', {
        choices: ['engineer', 'customer'] as const,
        default: 'engineer' as const,
        describe: 'a customer gets no coefficients, no scenario text and no model',
      }),
  run: async (options) => {
    const out = String(options.out);
    const reader = await openStore(out);
    try {
      const rows = await reader.rows();
      const parts = sweepReport(
        {
          stored: reader.stored,
          rows,
          measured: [],
          trials: [],
          date: new Date().toISOString().slice(0, 10),
          audience: options.for as Audience,
        },
        deflate,
      );
      const file = typeof options.output === 'string' ? options.output : placeFor(out);
      writeWhole(file, reportText(parts));
      process.stdout.write(`${file}\n`);
      return EXIT.done;
    } finally {
      reader.close();
    }
  },
};

function placeFor(out: string): string {
  if (!existsSync(out)) throw new InputError([{ place: out, message: 'is not there' }]);
  return statSync(out).isDirectory()
    ? join(out, 'report.html')
    : `${basename(out).replace(/\.\w+$/, '')}.html`;
}
