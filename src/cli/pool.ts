import { readFileSync } from 'node:fs';
import { basename, dirname, relative, resolve } from 'node:path';
import { poolDocument } from '../answers/pool/pool-document.ts';
import { type Fault, InputError } from '../scenario/errors.ts';
import { pooledEntry } from '../trials/pool/entry.ts';
import { pooled } from '../trials/pool/pool.ts';
import { type Campaign, readCampaigns } from '../trials/pool/read-campaigns.ts';
import type { Command } from './command.ts';
import { giveDocument } from './document-output.ts';
import { entryAndPage } from './entry-and-page.ts';
import { writeWhole } from './write-file.ts';

/** `pool CAL… -o ENTRY`: what several campaigns say of one machine or material, as a catalogue entry. */
export const pool: Command = {
  options: (argv) =>
    argv
      .positional('calibrations', {
        type: 'string',
        array: true,
        demandOption: true,
        describe: 'calibrations that fit wrote, two or more of one machine or of one material',
      })
      .option('material', {
        type: 'boolean',
        default: false,
        describe: 'pool the coefficients of the material, not those of the machine',
      })
      .option('from', {
        type: 'string',
        describe:
          'entry of the catalogue or file that the coefficients are laid over; where the scenarios name one it is known',
      })
      .option('output', {
        alias: 'o',
        type: 'string',
        array: true,
        nargs: 1,
        default: [] as string[],
        describe: 'entry to write; a page where it ends in .html (repeatable)',
      })
      .option('json', { type: 'boolean', default: false, describe: 'print everything as JSON' })
      .example(
        'grindloop pool cal-1.yaml cal-2.yaml cal-3.yaml -o machines/ours.yaml',
        'a machine entry from three campaigns',
      )
      .example(
        'grindloop pool lot-*.yaml --material -o materials/ours.yaml',
        'a material entry from several lots',
      ),
  run: async (options) => {
    const side = options.material === true ? 'material' : 'machine';
    const [file, page] = entryAndPage(options.output as string[], 'entry');
    const { campaigns, faults } = readAll(options.calibrations as string[], side);
    const base = baseOf(campaigns, side, file, options.from);
    const all = [...faults, ...(typeof base === 'string' ? [] : [base])];
    if (all.length > 0) throw new InputError(all);
    const coefficients = pooled(campaigns, side);
    const names = campaigns.map(({ name }) => basename(name));
    const date = new Date().toISOString().slice(0, 10);
    const entry = pooledEntry(coefficients, side, { from: base as string, campaigns: names, date });
    const document = poolDocument({
      side,
      of: campaigns[0]!.of,
      campaigns: names,
      misfits: campaigns.flatMap(({ name, misfit }) => (misfit ? [basename(name)] : [])),
      coefficients,
      entry,
      ...(file !== undefined ? { file } : {}),
    });
    if (file !== undefined && document.found) writeWhole(file, entry);
    return giveDocument(document, { json: options.json === true, ...(page === undefined ? {} : { page }) });
  },
};

function readAll(files: readonly string[], side: 'machine' | 'material') {
  const faults: Fault[] = [];
  if (files.length < 2)
    faults.push({ place: 'calibrations', message: 'pool takes two calibrations or more' });
  const twice = files.filter((file, i) => files.findIndex((one) => resolve(one) === resolve(file)) < i);
  for (const file of new Set(twice)) faults.push({ place: file, message: 'is given twice; keep one' });
  const texts = files.flatMap((name) => {
    try {
      return [{ name, text: readFileSync(name, 'utf8') }];
    } catch {
      faults.push({ place: name, message: 'cannot be read: there is no such file' });
      return [];
    }
  });
  const read = readCampaigns(texts, side);
  return { campaigns: read.campaigns, faults: [...faults, ...read.faults] };
}

/** The entry that the coefficients are laid over, as the new entry must name it. */
function baseOf(
  campaigns: readonly Campaign[],
  side: 'machine' | 'material',
  file: string | undefined,
  stated: unknown,
): string | Fault {
  if (typeof stated === 'string')
    return /[./\\]/.test(stated) ? relative(dirname(file ?? '.'), resolve(stated)) || stated : stated;
  const named = [...new Set(campaigns.map(({ from }) => from))];
  if (named.length === 1 && named[0] !== undefined) return named[0];
  return {
    place: '--from',
    message: `the scenarios of these calibrations do not all take their ${side} from one entry of the catalogue: name the entry its coefficients are laid over, e.g. --from ${side === 'machine' ? 'pilot-300' : 'organic-crystal'}, or a file`,
  };
}
