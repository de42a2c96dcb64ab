import { readFileSync } from 'node:fs';
import { InputError } from '../scenario/errors.ts';
import { bytesOfFile, demoCase, packageCatalogue } from '../scenario/load.ts';
import { programVersion } from '../sweep/store/version.ts';
import { deskText } from '../viz/write/desk.ts';
import { type Command, EXIT } from './command.ts';
import { writeWhole } from './write-file.ts';

/** Largest case a desk is opened on [bytes]. */
const LARGEST = 4e6;

/** `desk -o FILE`: the whole tool as one page. */
export const desk: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'scenario it opens on; the demo case unless given' })
      .option('output', { alias: 'o', type: 'string', describe: 'file to write the page to' })
      .example('grindloop desk -o desk.html', 'the whole tool as one page, for people without Node')
      .example('grindloop desk my-case.yaml -o desk.html', 'the same, opened on a case'),
  run: async (options) => {
    if (typeof options.output !== 'string')
      throw new InputError([{ place: 'command line', message: 'name the file to write: -o FILE' }]);
    const text =
      typeof options.file === 'string'
        ? caseText(options.file)
        : readFileSync(demoCase('erythritol'), 'utf8');
    writeWhole(options.output, deskText({ version: programVersion(), text, shelf: shelf() }));
    process.stdout.write(`${options.output}\n`);
    return EXIT.done;
  },
};

/** A case as written; a desk shows its faults. */
function caseText(file: string): string {
  try {
    return Buffer.from(bytesOfFile(file, LARGEST)).toString('utf8');
  } catch (error) {
    throw new InputError([{ place: file, message: `cannot be read: ${(error as Error).message}` }]);
  }
}

/** The catalogue whole, to go with the page. */
function shelf(): Record<string, string> {
  const { catalogue, catalogueNames } = packageCatalogue();
  const entries = (['machines', 'materials'] as const).flatMap((kind) =>
    catalogueNames(kind).map((name) => [`${kind}/${name}`, catalogue(`${kind}/${name}`) ?? ''] as const),
  );
  return Object.fromEntries(entries);
}
