import { readDocument } from '../answers/read/read-document.ts';
import { InputError } from '../scenario/errors.ts';
import type { MeasuredSample } from '../scenario/measurement/measured-sample.ts';
import { type Averaged, averageRepeats } from '../scenario/measurement/replicates.ts';
import { mixedMethods } from '../trials/method.ts';
import type { Command } from './command.ts';
import { documentOptions, giveDocument, givingOf } from './document-output.ts';
import { refuseOutside } from './number-option.ts';
import { readAll } from './read-all.ts';
import { readOptions, statedOptions } from './read-options.ts';

/** `read FILE…`: what an analyser or sieve export was understood to say. */
export const read: Command = {
  options: (argv) =>
    readOptions(
      documentOptions(argv)
        .positional('files', {
          type: 'string',
          array: true,
          demandOption: true,
          describe: 'exports of one material',
        })
        .option('average', {
          type: 'boolean',
          default: false,
          describe: 'samples are repeats: average them, show the scatter',
        })
        .option('sample', {
          type: 'string',
          array: true,
          nargs: 1,
          describe: 'only this sample (repeatable)',
        })
        .option('density', { type: 'number', describe: 'particle density [kg/m³], for the surface per mass' })
        .example('grindloop read export.csv', 'sizes, unit, basis and percentiles of every sample')
        .example('grindloop read day1.csv day2.csv --average -o sample.html', 'repeats averaged, as a page'),
    ),
  run: async (options) => {
    refuseOutside(options, { density: { above: 0, most: 30_000 } });
    const stated = statedOptions(options);
    const files = options.files as string[];
    const readings = await readAll(files, stated);
    const samples = chosen(
      readings.flatMap((one) => one.reading.samples),
      options.sample as string[] | undefined,
    );
    const averaged = options.average ? averageOf(samples, files) : undefined;
    const density = options.density as number | undefined;
    return giveDocument(readDocument({ readings, samples, averaged, density }), givingOf(options));
  },
};

function chosen(samples: readonly MeasuredSample[], names: readonly string[] | undefined): MeasuredSample[] {
  if (!names) return [...samples];
  const missing = names.filter((name) => !samples.some((sample) => sample.name === name));
  if (missing.length > 0) {
    const known = samples.map((sample) => sample.name).join(', ');
    throw new InputError(
      missing.map((name) => ({ place: '--sample', message: `no sample ${name}; there are ${known}` })),
    );
  }
  return samples.filter((sample) => names.includes(sample.name));
}

function averageOf(samples: readonly MeasuredSample[], files: readonly string[]): Averaged {
  const mixed = mixedMethods(samples);
  const averaged = mixed ?? averageRepeats(samples);
  if (typeof averaged === 'string') throw new InputError([{ place: files.join(', '), message: averaged }]);
  return averaged;
}
