import { basename, extname } from 'node:path';
import { packageCatalogue } from '../scenario/load.ts';
import { scenarioTemplate } from '../scenario/template.ts';
import { type Command, EXIT } from './command.ts';
import { writeWhole } from './write-file.ts';

/** `new FILE`: a commented scenario to start from. */
export const newScenario: Command = {
  options: (argv) =>
    argv
      .positional('file', { type: 'string', describe: 'where to write it', demandOption: true })
      .option('force', { type: 'boolean', default: false, describe: 'replace a file that is there' }),
  run: async (options) => {
    const file = String(options.file);
    const { catalogueNames } = packageCatalogue();
    const text = scenarioTemplate({
      title: basename(file, extname(file)),
      materials: catalogueNames('materials'),
      machines: catalogueNames('machines'),
    });
    writeWhole(file, text, options.force === true ? 'always' : 'never');
    process.stdout.write(`${file} written; change it to your case, then: grindloop check ${file}\n`);
    return EXIT.done;
  },
};
