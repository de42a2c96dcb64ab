import { basename, extname } from 'node:path';
import { newLog } from '../answers/next/next-answer.ts';
import { InputError } from '../scenario/errors.ts';
import { loadScenario, packageCatalogue } from '../scenario/load.ts';
import { scenarioTemplate } from '../scenario/scenario-template.ts';
import { type Command, EXIT } from './command.ts';
import { writeWhole } from './write-file.ts';

/** `new FILE`: a commented scenario to start from; `new --log FILE` an empty trial log. */
export const newScenario: Command = {
  options: (argv) =>
    argv
      .positional('file', {
        type: 'string',
        describe: 'where to write it; with --log the scenario the log is for',
      })
      .option('log', {
        type: 'string',
        describe:
          'write an empty trial log to this file: columns, units, and for a scenario a row at its settings with the predicted readings',
      })
      .option('force', { type: 'boolean', default: false, describe: 'replace a file that is there' })
      .example('grindloop new my-case.yaml', 'a commented scenario to start from')
      .example('grindloop new my-case.yaml --log trials.csv', 'an empty trial log for that scenario'),
  run: async (options) => {
    const file = typeof options.file === 'string' ? options.file : undefined;
    const kept = options.force === true ? 'always' : 'never';
    if (typeof options.log === 'string') {
      writeWhole(options.log, newLog(file === undefined ? undefined : await loadScenario(file)), kept);
      process.stdout.write(
        `${options.log} written; fill in one line a run, then: grindloop fit ${file ?? 'my-case.yaml'} --trials ${options.log} -o cal.yaml\n`,
      );
      return EXIT.done;
    }
    if (file === undefined)
      throw new InputError([
        {
          place: 'new',
          message: 'name a file to write, e.g. grindloop new my-case.yaml, or --log trials.csv',
        },
      ]);
    const { catalogueNames } = packageCatalogue();
    const text = scenarioTemplate({
      title: basename(file, extname(file)),
      materials: catalogueNames('materials'),
      machines: catalogueNames('machines'),
    });
    writeWhole(file, text, kept);
    process.stdout.write(`${file} written; change it to your case, then: grindloop check ${file}\n`);
    return EXIT.done;
  },
};
